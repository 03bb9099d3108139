"""From one week's workbook and plan to next week's workbook."""
