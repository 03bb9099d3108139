"""The answer about enquiries: verdicts, curves, every slot, checks moved, the best combination."""

from functools import partial

import streamlit as st

from capacity.facts import Base
from capacity.questions.enquiries.values import EnquiryAnswer
from capacity.reports.enquiries.contribution import counted_contribution, per_man_hour
from capacity.reports.enquiries.ways import Way, ways_of
from capacity.reports.enquiries.wording import (
    COST_MEANING,
    lowest_price,
    told_way,
    verdict,
    verdict_in_words,
)
from capacity.reports.enquiries.workbook import enquiries_workbook
from capacity.reports.plan.stay_columns import bays
from capacity.words import counted, day, days, money
from ui.charts.break_even_prices import prices_chart
from ui.charts.cost_curve import cost_curve
from ui.commercial.combination_rows import alone_table, combinations_table, slots_of_best_table
from ui.commercial.enquiry_job import Told
from ui.commercial.enquiry_rows import (
    costs_table,
    curve_table,
    hours_table,
    moves_table,
    overview_table,
    slots_table,
)
from ui.commercial.words import (
    COMBINATIONS_TOO_SHORT,
    NO_PROMISE,
    STOPPED,
    asked_in_words,
    best_combination_in_words,
    does_not_cover,
    enquiry_in_words,
    is_searched_too_shortly,
)
from ui.desk.session import current_look
from ui.parts.editor import EXCEL
from ui.parts.tables import show_table
from ui.plain import plain
from ui.words import AS_TABLE


def show_answer(told: Told) -> None:
    """Show what was found: all enquiries, then one of them, then the best combination."""
    st.text(asked_in_words(told))
    if told.was_stopped:
        st.warning(STOPPED, icon=":material/stop_circle:")
    if len(told.answers) > 1:
        _show_overview(told)
    _show_one(told)
    _show_combinations(told)
    st.download_button(
        "This answer as a workbook (.xlsx)",
        partial(
            enquiries_workbook,
            told.answers,
            told.combinations,
            told.base,
            plans=(told.planned.plan,),
        ),
        file_name=f"{told.result.opened.stem}-enquiries.xlsx",
        mime=EXCEL,
        on_click="ignore",
        icon=":material/download:",
    )
    st.caption(NO_PROMISE)


def _show_overview(told: Told) -> None:
    st.subheader("All enquiries")
    show_table(overview_table(told.answers, told.base))
    st.caption("✚ is the price offered; ● and ◆ are break-even prices, ◆ with others moved.")
    st.altair_chart(
        prices_chart(told.answers, told.base, current_look()), key=f"enquiry prices {told.number}"
    )


@st.fragment
def _show_one(told: Told) -> None:
    """Show one enquiry in full; with several, the one that is chosen."""
    answers = {answer.enquiry.name: answer for answer in told.answers}
    name = next(iter(answers))
    if len(answers) > 1:
        st.subheader("One enquiry")
        name = st.selectbox("Enquiry shown", list(answers), width=320, key=f"enquiry {told.number}")
    answer, base = answers[name], told.base
    st.text(enquiry_in_words(answer.enquiry, base))
    _show_verdict(answer, base)
    ways = ways_of(answer)
    if ways:
        st.caption(COST_MEANING)
        show_table(costs_table(ways, base))
    _show_curve(answer, base, f"enquiry curve {told.number} {name}")
    for way in ways:
        _show_hours(way)
        if way.moves:
            st.markdown("**Checks moved**")
            show_table(moves_table(way.moves, base))
    if answer.slots:
        with st.expander(f"Every slot with nobody moved ({len(answer.slots)})"):
            show_table(slots_table(answer, base))


def _show_verdict(answer: EnquiryAnswer, base: Base) -> None:
    st.markdown(f"**{plain(verdict(answer).value)}**")
    st.text(verdict_in_words(answer, base))
    if (way := told_way(answer)) is None:
        return
    found = counted_contribution(way, base)
    came, left, bay, least, *rest = st.columns(4 if found is None else 5)
    came.metric("In", day(way.in_day))
    left.metric(
        "Out",
        day(way.out_day),
        delta=_days_of_agreed_out(way),
        delta_color="off",
        delta_arrow="off",
    )
    bay.metric("Bay", plain(bays(way.placements)))
    least.metric(
        "Break-even price",
        plain(lowest_price(way.lowest_price, base)),
        delta=way.name,
        delta_color="off",
        delta_arrow="off",
    )
    if found is not None and found.money < 0:
        st.warning(plain(does_not_cover(found, base)), icon=":material/warning:")
    if found is not None:
        rest[0].metric(
            "Contribution",
            plain(money(found.money, base)),
            delta=None if found.per_man_hour is None else per_man_hour(found.per_man_hour, base),
            delta_color="off",
            delta_arrow="off",
        )


def _days_of_agreed_out(way: Way) -> str:
    if not way.enquiry.is_agreed:
        return "nothing agreed"
    kept = "keeps Agreed out" if way.enquiry.agreed_days is None else "keeps Agreed days"
    return f"{days(way.late_days)} late out" if way.late_days else kept


def _show_curve(answer: EnquiryAnswer, base: Base, key: str) -> None:
    if not answer.curve:
        return
    st.markdown("**Break-even price by the week in which the aircraft comes in**")
    if all(price.slot is None for price in answer.curve):
        st.text(f"No slot unless others move, in {counted(len(answer.curve), 'week')}.")
    st.altair_chart(cost_curve(answer, base, current_look()), key=key)
    with st.expander(AS_TABLE):
        show_table(curve_table(answer, base))


def _show_hours(way: Way) -> None:
    st.markdown(f"**Man-hours bought on top, {way.name}**")
    if rows := hours_table(way.hours_more):
        show_table(rows)
    else:
        st.text("None: regular hours are enough.")


def _show_combinations(told: Told) -> None:
    if len(told.answers) == 1:
        return
    st.subheader("Which to accept together")
    st.text(best_combination_in_words(told.combinations, told.base))
    if is_searched_too_shortly(told.combinations):
        st.warning(COMBINATIONS_TOO_SHORT, icon=":material/hourglass_bottom:")
    show_table(combinations_table(told.combinations, told.base))
    if told.combinations.best.enquiries:
        st.caption("Slots of the best combination")
        show_table(slots_of_best_table(told.combinations, told.base))
    if told.combinations.best.moves:
        st.caption("Checks moved for the best combination")
        show_table(moves_table(told.combinations.best.moves, told.base))
    if rows := hours_table(told.combinations.best.hours_more):
        st.caption("Man-hours bought on top for the best combination")
        show_table(rows)
    with st.expander("What each gains alone, with nobody moved"):
        show_table(alone_table(told.combinations, told.base))
