"""The comparison of two plans as text and workbook."""
