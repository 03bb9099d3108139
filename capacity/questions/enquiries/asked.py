"""Whether an aircraft that is offered can be taken too, when, and at what cost."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import date
from threading import Event

from capacity.errors import InputError
from capacity.facts import Base, Check, Status
from capacity.inputs.enquiry_faults import faults_of_enquiries
from capacity.labour.calendar import calendar_of
from capacity.plans.plan import Plan
from capacity.questions.asking.differences import HoursMore, hours_more, labour_more
from capacity.questions.asking.standing_plan import StandingPlan, standing_plan
from capacity.questions.enquiries.moves import with_moves
from capacity.questions.enquiries.slots import curve_of, in_the_way, slots_of
from capacity.questions.enquiries.values import EnquiryAnswer
from capacity.settings import Settings
from capacity.slots.candidates import find_slots

# For each enquiry, when others may move for it.
SECONDS_AN_ENQUIRY = 10.0


def enquiry(
    base: Base,
    aircraft_type: str,
    package: str,
    earliest: date,
    *,
    agreed_out: date | None = None,
    agreed_days: int | None = None,
    price: float = 0.0,
    latest: date | None = None,
    late_cost_per_day: float = 0.0,
    name: str = "Enquiry",
    customer: str = "",
) -> Check:
    """Return the check of an aircraft that is offered, from what a caller says on the phone.

    Without a ``latest`` in day it is the last one from which the aircraft, at its quickest,
    is out by ``agreed_out``; without that too, the last in day of the plan. ``agreed_days`` in
    place of ``agreed_out`` are so many calendar days after it comes in.

    Raises
    ------
    InputError
        When type or package are unknown to the base, or the days run backwards.
    """
    check = Check(
        name=name,
        aircraft=name,
        type=aircraft_type,
        package=package,
        status=Status.OPTION,
        earliest_in=earliest,
        latest_in=base.last_in_day if latest is None else latest,
        customer=customer,
        third_party=True,
        agreed_out=agreed_out,
        agreed_days=agreed_days,
        late_cost_per_day=late_cost_per_day,
        price=price,
    )
    refuse_faulty([check], base)
    return check if latest is not None else with_last_in_time(check, base)


def with_last_in_time(check: Check, base: Base) -> Check:
    """Return an enquiry of which no ``Latest in`` was given, with the last one that is in time.

    That is the last day from which it, at its quickest, is out by its ``Agreed out``; without that
    the ``Latest in`` that it has stays.
    """
    if check.agreed_out is None:
        return check
    last = _last_in_time(check, base) or check.earliest_in
    return replace(check, latest_in=max(check.earliest_in, last))


def ask(
    base: Base,
    plan: Plan,
    enquiries: Sequence[Check],
    settings: Settings | None = None,
    *,
    may_move: Collection[str] | None = (),
    on_time_only: bool = False,
    stop: Event | None = None,
) -> tuple[EnquiryAnswer, ...]:
    """Return what each enquiry would cost beside a plan of the base, one at a time.

    ``may_move`` names checks that may move for an enquiry, None is all of them; the search for
    such a plan takes ``settings.seconds`` an enquiry at the most, and none once ``stop`` is
    set or Ctrl-C is pressed. With ``on_time_only`` no slot is named in which the aircraft
    is late out. All figures are those of audited plans.

    Raises
    ------
    InputError
        When an enquiry is faulty, or the plan is none of this base's.
    AuditError
        When a figure does not stand up to the audit.
    """
    refuse_faulty(enquiries, base)
    stop = stop or Event()
    settings = settings or Settings(seconds=SECONDS_AN_ENQUIRY)
    standing = standing_plan(base, plan, enquiries, may_move)
    return tuple(
        _answer(standing, check, settings, stop, on_time_only=on_time_only) for check in enquiries
    )


def refuse_faulty(enquiries: Sequence[Check], base: Base) -> None:
    """Raise ``InputError`` with everything that is wrong with some enquiries to a base."""
    if faults := list(faults_of_enquiries(enquiries, base)):
        raise InputError(faults)


def _answer(
    standing: StandingPlan, check: Check, settings: Settings, stop: Event, *, on_time_only: bool
) -> EnquiryAnswer:
    number = standing.number_of(check.name)
    slots = slots_of(standing, number, on_time_only=on_time_only)
    more: tuple[HoursMore, ...] = ()
    labour = None
    if slots:
        taken = slots[0].taken_into(standing.plan)
        with_it = standing.auditor.audit(taken, standing.audit)
        more = hours_more(standing.audit, with_it)
        labour = labour_more(standing.audit, with_it, {check.name})
    moved, proven_no_way = None, False
    if standing.may_move.any() and not stop.is_set():
        moved, proven_no_way = with_moves(
            standing, number, settings, stop, on_time_only=on_time_only
        )
    return EnquiryAnswer(
        enquiry=check,
        slots=slots,
        curve=curve_of(standing, check, slots),
        hours_more=more,
        in_the_way=() if slots else in_the_way(standing, number),
        with_moves=moved,
        proven_no_way=proven_no_way,
        labour=labour,
    )


def _last_in_time(check: Check, base: Base) -> date | None:
    """Return the last day from which the check at its quickest is out by ``Agreed out``."""
    alone = base.replace(checks=(check,))
    calendar = calendar_of(alone)
    (candidates,) = find_slots(alone, calendar).candidates
    stays = candidates.courses.stays
    if check.agreed_out is None:
        return None
    in_time = stays.in_day[stays.out_day <= calendar.number(check.agreed_out)]
    return calendar.date(int(in_time.max())) if len(in_time) else None
