"""Put the tables between the marks in README.md."""

from pathlib import Path

BEGIN, END = "<!-- bench:begin -->", "<!-- bench:end -->"


def put_between_marks(text: str, readme: Path) -> None:
    """Replace what stands between the marks and leave everything else as it is.

    Raises
    ------
    ValueError
        When the file does not have both marks, in this order.
    """
    before, begin, rest = readme.read_text(encoding="utf-8").partition(BEGIN)
    _, end, after = rest.partition(END)
    if not begin or not end:
        raise ValueError(f"{readme} has no {BEGIN} followed by {END}")
    readme.write_text(f"{before}{BEGIN}\n{text}\n{END}{after}", encoding="utf-8")
