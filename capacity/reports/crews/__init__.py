"""The crew plan as text and workbook."""
