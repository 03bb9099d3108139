"""The rule sets that a base may choose from, by name."""

from capacity.working_time.good_practice import GOOD_PRACTICE
from capacity.working_time.limits import RuleSet
from capacity.working_time.one_day_in_seven import (
    ONE_DAY_IN_SEVEN_EQUIVALENT,
    ONE_DAY_IN_SEVEN_STRICT,
)
from capacity.working_time.working_time_directive import WORKING_TIME_DIRECTIVE

RULE_SETS: dict[str, RuleSet] = {
    rule_set.name: rule_set
    for rule_set in (
        GOOD_PRACTICE,
        WORKING_TIME_DIRECTIVE,
        ONE_DAY_IN_SEVEN_STRICT,
        ONE_DAY_IN_SEVEN_EQUIVALENT,
    )
}
