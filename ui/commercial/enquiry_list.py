"""A list of offers that a person uploads: bounded, and every fault told with its cell."""

import tempfile
from pathlib import Path

from capacity.facts import Base, Check
from capacity.inputs.limited import Wanted, always, offers_and_findings
from capacity.messages import Level, Message

MOST_MEGABYTES = 2
MOST_BYTES = MOST_MEGABYTES * 1_000_000
MOST_OFFERS = 40
"""More would keep the machine busy for longer than a caller waits."""


def read_offer_list(
    content: bytes, base: Base, still_wanted: Wanted = always
) -> tuple[tuple[Check, ...], tuple[Message, ...]]:
    """Return the offers of a workbook and all findings; no offers when any is an error."""
    if len(content) > MOST_BYTES:
        what = f"the file has {len(content):,} bytes; a list may have {MOST_BYTES:,} at most."
        return (), (_error("Offers", what, "Keep only the sheet Offers in it."),)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "offers.xlsx"
        path.write_bytes(content)
        offers, findings = offers_and_findings(path, base, still_wanted)
    if len(offers) > MOST_OFFERS:
        what = f"there are {len(offers)} offers; {MOST_OFFERS} can be asked about at once."
        findings = [*findings, _error("Offers", what, "Ask about the others afterwards.")]
    if any(finding.level is Level.ERROR for finding in findings):
        offers = ()
    return offers, tuple(findings)


def _error(where: str, what: str, remedy: str) -> Message:
    return Message(Level.ERROR, where, what, remedy)
