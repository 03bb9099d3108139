"""Many what-ifs of one workbook and its plan, each planned by itself, on many processes."""
