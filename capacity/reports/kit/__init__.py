"""What every written report is made of: sheets, tables, formats, whole files."""
