"""Tables on the pages: a message is read whole, however long, and as it stands."""

from datetime import date

from streamlit.testing.v1 import AppTest

from capacity.messages import Level, Message
from ui.plain import plain

LONG = "The check **Q-1** comes in on a day on which nobody works. " * 5


def shown(script, *args) -> AppTest:
    """Return a page that a function draws."""
    page = AppTest.from_function(script, args=args, default_timeout=30).run()
    assert not page.exception
    return page


def messages(found) -> None:
    from ui.parts.tables import show_messages

    show_messages(found)


def table(rows) -> None:
    from ui.parts.tables import show_table

    show_table(rows)


def facts(pairs) -> None:
    from ui.parts.tables import show_facts

    show_facts(pairs)


def message(number: int) -> Message:
    return Message(Level.WARNING, f"Checks!F{number}", f"{number}: {LONG}", "Correct it.")


def test_messages_stand_in_a_table_that_wraps_and_mean_nothing_to_markdown():
    # A grid cuts a sentence at the edge of its cell; this table makes the cell higher.
    page = shown(messages, [message(2)])
    assert not page.dataframe
    (told,) = page.table
    assert list(told.value["What"]) == [plain(f"2: {LONG}")]
    assert "\\*\\*Q" in told.value["What"][0]
    assert list(told.value["Where"]) == ["Checks\\!F2"]


def test_of_very_many_messages_every_part_can_be_shown():
    page = shown(messages, [message(number) for number in range(1, 451)])
    (parts,) = page.selectbox
    assert parts.options == ["1 to 200 of 450", "201 to 400 of 450", "401 to 450 of 450"]
    parts.set_value("401 to 450 of 450").run()
    assert list(page.table[0].value["Where"]) == [f"Checks\\!F{n}" for n in range(401, 451)]


def test_a_table_with_sentences_wraps_and_one_without_stays_a_grid():
    rows = [{"Stage": "Open", "Caution": LONG, "From": date(2027, 1, 4), "Hours": 1234.5}]
    page = shown(table, rows)
    assert not page.dataframe
    (row,) = page.table[0].value.to_dict("records")
    assert row["Caution"] == plain(LONG)
    assert row["From"] == "Mon 4 Jan 2027"
    assert row["Hours"] == "1\\,234\\.5"
    assert len(shown(table, [{"Stage": "Open", "Hours": 2}]).dataframe) == 1


def test_facts_are_read_whole():
    page = shown(facts, [("Keeps its dates", LONG)])
    assert not page.dataframe
    assert list(page.table[0].value["Value"]) == [plain(LONG)]
