"""Several bases planned together: as text, as a workbook, and the files of each base."""
