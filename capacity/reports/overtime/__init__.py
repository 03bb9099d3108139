"""The overtime review as text and workbook."""
