"""A page to print, read back by the parser of the standard library.

It shares nothing with what writes the page.
"""

from html.parser import HTMLParser

ALLOWED = {
    "html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "p",
    "table", "thead", "tbody", "tr", "th", "td", "svg", "rect", "text",
}  # fmt: skip
"""The tags that a page to print is made of; no other may come out of any text."""

DRAWN = {"section", "div", "line", "path"}
"""What pages with sheets of their own, and drawings, are made of too."""

FORBIDDEN = ("src", "href", "onerror", "style")
"""Attributes that would fetch, run or hide something."""


class PrintedPage(HTMLParser):
    """Keeps tags and attributes, the texts by tag, and the tables by the heading above them."""

    def __init__(self) -> None:
        """Begin with nothing read."""
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.texts: dict[str, list[str]] = {}
        self.rows: list[list[str]] = []
        self.marked: list[str] = []
        self.under: dict[str, list[list[str]]] = {}
        self._inside, self._is_marked, self._heading = "", False, ""

    def handle_starttag(self, tag, attrs):
        """Take a tag down; texts begin anew in it."""
        self.tags.append(tag)
        self.attributes += attrs
        self._inside = tag
        self._is_marked = "marked" in (dict(attrs).get("class") or "").split()
        self.texts.setdefault(tag, []).append("")
        if tag == "tr":
            self.rows.append([])
            self.under.setdefault(self._heading, []).append(self.rows[-1])

    def handle_data(self, data):
        """Add a text to the tag that it stands in."""
        if self._inside:
            self.texts[self._inside][-1] += data

    def handle_endtag(self, tag):
        """Close a tag; a cell goes to its row, a heading to the tables that follow."""
        self._inside = ""
        if tag in ("td", "th"):
            self.rows[-1].append(self.texts[tag][-1])
            if self._is_marked:
                self.marked.append(self.texts[tag][-1])
        elif tag == "h2":
            self._heading = self.texts[tag][-1]

    def table_under(self, heading: str) -> list[dict[str, str]]:
        """Return the rows of the table under a heading, by the headings of their columns."""
        names, *rows = self.under[heading]
        return [dict(zip(names, row, strict=True)) for row in rows]


def read(page: bytes) -> PrintedPage:
    """Return a page read to its end."""
    reader = PrintedPage()
    reader.feed(page.decode("utf-8"))
    reader.close()
    return reader
