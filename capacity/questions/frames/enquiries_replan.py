"""Answers as data frames, for those who go on in a notebook; needs pandas."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from capacity.plans.plan import Placement
from capacity.questions.asking.differences import Costs
from capacity.questions.compare.two_plans import Comparison
from capacity.questions.enquiries.values import Combination, CombinationAnswer, EnquiryAnswer, Slot
from capacity.questions.replan.values import Change, Reason, Replanned

if TYPE_CHECKING:
    import pandas as pd

Row = dict[str, object]


def enquiry_frames(answers: Sequence[EnquiryAnswer]) -> "dict[str, pd.DataFrame]":
    """Return the frames ``enquiries`` (a row an enquiry), ``slots`` and ``curve``, all by enquiry.

    Money is in the base's currency; ``break_even`` is with nobody moved, and with moves where
    that was searched; missing values stand where there is no place.
    """
    return frames_of(
        enquiries=[_enquiry_row(answer) for answer in answers],
        slots=[_slot_row(slot) for answer in answers for slot in answer.slots],
        curve=[
            {
                "enquiry": answer.enquiry.name,
                "week": price.week,
                "in": price.slot.in_day if price.slot else None,
                "cost": price.cost,
            }
            for answer in answers
            for price in answer.curve
        ],
    )


def set_frames(answer: CombinationAnswer) -> "dict[str, pd.DataFrame]":
    """Return the frames ``sets`` (the best first), ``enquiries`` in them, and ``alone``."""
    sets = (answer.best, *answer.runners_up)
    return frames_of(
        sets=[_set_row(place, one) for place, one in enumerate(sets, start=1)],
        enquiries=[
            {
                "place": place,
                "enquiry": enquiry.check,
                "price": enquiry.price,
                **_where(enquiry.placements),
            }
            for place, one in enumerate(sets, start=1)
            for enquiry in one.enquiries
        ],
        alone=[{"enquiry": alone.check, "gain": alone.gain} for alone in answer.alone],
    )


def replan_frames(answer: Replanned) -> "dict[str, pd.DataFrame]":
    """Return the frames ``changes`` (a row a check) and ``money`` (old arrangement and new)."""
    return frames_of(
        changes=[_change_row(change) for change in answer.changes],
        money=[
            {
                "plan": name,
                "days_past_latest_in": one.days_past,
                "money": one.money,
                "move_price": one.move_price,
                "overload_hours": one.audit.goals.overload_hours,
            }
            for name, one in (("kept", answer.kept), ("found", answer.found))
        ],
    )


def comparison_frames(told: Comparison) -> "dict[str, pd.DataFrame]":
    """Return the frames ``placements``, ``money`` and ``overloads``, both plans side by side."""
    return frames_of(
        placements=[
            {
                "check": pair.check,
                **_where(pair.first, "first_"),
                **_where(pair.second, "second_"),
                "days": pair.days,
                "what": ", ".join(pair.what),
            }
            for pair in told.placements
        ],
        money=[
            {"name": pair.name, "first": pair.first, "second": pair.second, "more": pair.more}
            for pair in told.money
        ],
        overloads=[
            {"week": o.week, "skill": o.skill, "first": o.first, "second": o.second}
            for o in told.overloads
        ],
    )


def reason_text(reason: Reason) -> str:
    """Return a reason in a few words, such as ``displaced by N-07, N-08``."""
    parts: list[str] = [reason.cause]
    if reason.by:
        parts.append(f"by {', '.join(reason.by)}")
    if reason.days:
        parts.append(f"{reason.days:+d} {'day' if abs(reason.days) == 1 else 'days'}")
    if reason.man_hours:
        parts.append(f"{reason.man_hours:+,.0f} man-hours")
    if reason.money:
        parts.append(f"(staying would cost {reason.money:,.2f} more)")
    return " ".join(parts)


def frames_of(**rows: list[Row]) -> "dict[str, pd.DataFrame]":
    """Return a frame for each list of rows, by its name."""
    import pandas as pd

    return {name: pd.DataFrame(of_name) for name, of_name in rows.items()}


def _enquiry_row(answer: EnquiryAnswer) -> Row:
    cheapest, moved = answer.cheapest, answer.with_moves
    return {
        "enquiry": answer.enquiry.name,
        "price": answer.enquiry.price,
        "break_even": answer.break_even,
        **_where(cheapest.placements if cheapest else ()),
        "overload_hours": sum(more.overload for more in answer.overloads),
        "break_even_with_moves": moved.break_even if moved else None,
        "least_break_even": moved.least_break_even if moved else None,
        "moved": ", ".join(move.check for move in moved.moves) if moved else "",
        "in_the_way": ", ".join(answer.in_the_way),
        "man_hours": answer.labour.man_hours if answer.labour else None,
        "regular_hours": answer.labour.regular if answer.labour else None,
    }


def _slot_row(slot: Slot) -> Row:
    return {
        "enquiry": slot.check,
        **_where(slot.placements),
        "pace": slot.pace,
        "early_days": slot.early_days,
        "late_days": slot.late_days,
        "cost": slot.cost,
        **_cost_cells(slot.costs),
    }


def _set_row(place: int, one: Combination) -> Row:
    return {
        "place": place,
        "enquiries": ", ".join(one.names),
        "gain": one.gain,
        "most_gain": one.most_gain,
        "proven": one.proven,
        "moved": ", ".join(move.check for move in one.moves),
        "cost": one.costs.money,
        **_cost_cells(one.costs),
    }


def _cost_cells(costs: Costs) -> Row:
    return {
        "overtime": costs.overtime,
        "contract": costs.contract,
        "overload": costs.overload,
        "early": costs.early,
        "late": costs.late,
        "early_of_others": costs.early_of_others,
        "late_of_others": costs.late_of_others,
        "wanted": costs.wanted,
        "wanted_of_others": costs.wanted_of_others,
        "prices_of_others": costs.prices_of_others,
    }


def _change_row(change: Change) -> Row:
    return {
        "check": change.check,
        "what": ", ".join(change.what),
        **_where(change.before, "before_"),
        **_where(change.after, "after_"),
        "days_moved": change.days_moved,
        "why": "; ".join(reason_text(reason) for reason in change.why),
        "move_price": change.move_price,
        "tell_customer": change.concerned.customer,
        "tell_bays": ", ".join(change.concerned.bays),
        "tell_crews": ", ".join(change.concerned.crews),
        "tell_shops": ", ".join(change.concerned.shops),
        "tell_licences": ", ".join(change.concerned.licences),
    }


def _where(placements: Sequence[Placement], prefix: str = "") -> Row:
    """Return bays in turn, in day and out day of a check; missing values without a place."""
    return {
        f"{prefix}bay": ", ".join(placement.bay for placement in placements) or None,
        f"{prefix}in": placements[0].in_day if placements else None,
        f"{prefix}out": placements[-1].out_day if placements else None,
    }
