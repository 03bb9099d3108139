"""What delivered checks teach, in words and in a workbook."""
