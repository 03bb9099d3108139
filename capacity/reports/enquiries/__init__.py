"""Answers to enquiries as text and workbook."""
