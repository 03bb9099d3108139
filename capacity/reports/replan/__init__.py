"""What a new plan changes, as text and workbook."""
