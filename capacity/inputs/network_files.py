"""Several bases from their files: the workbook that names them, and the workbook of each."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from capacity.facts import Network
from capacity.inputs.book import Book
from capacity.inputs.limited import bases_named, read_book, shared_enquiries
from capacity.messages import Level, Message


@dataclass(frozen=True, slots=True)
class NetworkBook:
    """What was read; ``network`` is None when any message is an error.

    ``books`` and ``paths`` are of the bases' own workbooks, by the names that bases have here.
    """

    network: Network | None
    messages: tuple[Message, ...]
    books: Mapping[str, Book]
    paths: Mapping[str, Path]


def read_network_book(path: Path) -> NetworkBook:
    """Return the network of a workbook, or a folder of CSV files, with everything worth saying.

    Workbooks of bases are looked for from the folder in which it lies. A message about one of them
    names it: ``north.xlsx, Checks!F17``. Bad input never raises.
    """
    named, messages = bases_named(path)
    books, paths = {}, {}
    for one in named:
        paths[one.name] = path.parent / one.workbook
        books[one.name] = book = read_book(paths[one.name])
        for message in book.messages:
            is_of_file = message.where == paths[one.name].name
            where = one.where if is_of_file else f"{one.workbook}, {message.where}"
            messages.append(Message(message.level, where, message.what, message.remedy))
    bases = {name: book.base for name, book in books.items() if book.base is not None}
    enquiries, more = shared_enquiries(path, named, bases)
    messages += more
    is_wrong = any(message.level is Level.ERROR for message in messages)
    network = None if is_wrong else Network(bases, enquiries)
    return NetworkBook(network, tuple(messages), books, paths)
