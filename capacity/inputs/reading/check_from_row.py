"""A row with the columns of ``Checks`` becomes a check, whichever sheet it stands in."""

from capacity.facts import Check, Status
from capacity.inputs.reading.sheets import CheckRow


def check_from(row: CheckRow) -> Check:
    """Return the check of a row.

    ``Fixed bay`` and ``Fixed in`` of a check that is not fixed mean what ``Held`` says, or nothing.

    Raises
    ------
    ValueError
        If the row has no window; what verifies a workbook refuses such a row before.
    """
    window = row.window()
    if window is None:
        raise ValueError(f"the check {row.check} has no window")
    return Check(
        name=row.check,
        aircraft=row.aircraft,
        type=row.type,
        package=row.package,
        status=Status(row.status),
        earliest_in=window[0],
        latest_in=window[1],
        customer=row.customer,
        third_party=row.third_party,
        wanted_in=row.wanted_in,
        agreed_out=row.agreed_out,
        early_cost_per_day=row.early_cost_per_day,
        late_cost_per_day=row.late_cost_per_day,
        price=row.price,
        findings_factor=row.findings_factor,
        fixed_bay=row.fixed_bay if row.is_fixed else None,
        fixed_in=row.fixed_in if row.is_fixed else None,
        remaining=row.remaining,
        agreed_days=row.agreed_days,
        wanted_cost_per_day=row.wanted_cost_per_day,
        decide_by=row.decide_by,
        held_in=row.held_in,
        held_bay=row.held_bay,
    )
