"""Cross checks of licences and authorisations that end."""

from collections import defaultdict
from collections.abc import Iterator

from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CrewRow, LicenceRow, SkillRow, TypeRow
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message


def licences_are_of_their_crew(sheets: Sheets) -> Iterator[Message]:
    """Require that a licence is for a skill of its crew, or for a type that the crew works on."""
    crews = {crew.crew: crew for crew in sheets[CrewRow].rows}
    types = list(sheets[TypeRow].named)
    for row in sheets[LicenceRow].rows:
        crew = crews.get(row.crew)
        if crew is None or not sheets[TypeRow].names_known:
            continue
        known = [*crew.skills, *(crew.types or types)]
        if row.of not in known:
            yield Message(
                Level.ERROR,
                sheets.at(row, "of"),
                f"'{row.of}' is neither a skill of the crew '{row.crew}' nor a type that it works "
                "on.",
                suggest(row.of, known, f"the skills and types of '{row.crew}'"),
            )
        elif row.of in sheets[SkillRow].named and row.of in sheets[TypeRow].named:
            yield Message(
                Level.ERROR,
                sheets.at(row, "of"),
                f"'{row.of}' is a skill and an aircraft type; which is meant is not clear.",
                "Give one of the two another name.",
            )


def licences_are_of_people(sheets: Sheets) -> Iterator[Message]:
    """Require that no more people lose a licence than the crew has."""
    crews = {crew.crew: crew for crew in sheets[CrewRow].rows}
    people: defaultdict[tuple[str, str], int] = defaultdict(int)
    for row in sheets[LicenceRow].rows:
        crew = crews.get(row.crew)
        before = people[row.crew, row.of]
        people[row.crew, row.of] += row.people
        if crew is not None and before <= crew.heads < before + row.people:
            yield Message(
                Level.ERROR,
                sheets.at(row, "people"),
                f"the licences of {before + row.people} people of the crew '{row.crew}' for "
                f"'{row.of}' end, but it has {crew.heads}.",
                "Correct People, or Heads in the sheet Crews.",
            )
