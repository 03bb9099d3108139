"""One person's desk: the opened workbook, jobs, and what is kept."""
