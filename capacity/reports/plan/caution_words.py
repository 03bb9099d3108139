"""Why a caution is shown, and where it is from, in words."""

from capacity.cautions.caution import AppliedCaution, Caution


def why_told(applied: AppliedCaution) -> str:
    """Return the reason, and that it is a guess where only a name suggests it."""
    return f"{applied.why} (a guess)" if applied.is_guess else applied.why


def source_told(caution: Caution) -> str:
    """Return the source with how well it is known."""
    return f"{caution.source} ({caution.status})"
