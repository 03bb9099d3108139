"""The planner's workbook, or a folder of CSV files, becomes facts and findings."""

from capacity.inputs.book import Book, read_book

__all__ = ["Book", "read_book"]
