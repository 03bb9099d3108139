"""The plan as text, workbook, calendar and plan file."""
