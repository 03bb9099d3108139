"""An empty workbook to begin with: headings, notes, lists to choose from, numbered rows."""
