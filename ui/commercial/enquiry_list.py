"""A list of enquiries that a person uploads: bounded, and every fault told with its cell."""

import tempfile
from pathlib import Path

from capacity.facts import Base, Check
from capacity.inputs.limited import Wanted, always, enquiries_and_messages
from capacity.messages import Level, Message

MOST_MEGABYTES = 2
MOST_BYTES = MOST_MEGABYTES * 1_000_000
MOST_ENQUIRIES = 40
"""More would keep the machine busy for longer than a caller waits."""


def read_enquiry_list(
    content: bytes, base: Base, still_wanted: Wanted = always
) -> tuple[tuple[Check, ...], tuple[Message, ...]]:
    """Return the enquiries of a workbook and all messages; no enquiries when any is an error."""
    if len(content) > MOST_BYTES:
        what = f"the file has {len(content):,} bytes; a list may have {MOST_BYTES:,} at most."
        return (), (_error("Enquiries", what, "Keep only the sheet Enquiries in it."),)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "enquiries.xlsx"
        path.write_bytes(content)
        enquiries, messages = enquiries_and_messages(path, base, still_wanted)
    if len(enquiries) > MOST_ENQUIRIES:
        what = f"there are {len(enquiries)} enquiries; {MOST_ENQUIRIES} can be asked about at once."
        messages = [*messages, _error("Enquiries", what, "Ask about the others afterwards.")]
    if any(message.level is Level.ERROR for message in messages):
        enquiries = ()
    return enquiries, tuple(messages)


def _error(where: str, what: str, remedy: str) -> Message:
    return Message(Level.ERROR, where, what, remedy)
