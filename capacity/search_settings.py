"""How the time of a search is shared out: every share, wait and limit of it, with its unit.

A share is of the time of the search (or of what is left of it, where that is said), from 0 to 1.
Seconds are wall time.
"""

from dataclasses import dataclass, fields

from capacity.checked_settings import number_within, whole_within


@dataclass(frozen=True, slots=True)
class SearchSettings:
    """What a person need not know to plan; raises ``SettingsError`` where it makes no sense.

    Fields that end in ``_share`` are shares of the time, those with ``seconds`` in their names
    wall time, ``..._columns``, ``..._courses``, ``..._checks`` and ``..._days`` numbers of these.
    """

    # A measure against overtime is searched for so long at the least, and fewer of them are tried
    # where that would be less than the second; so many in any case, if the time is passed by no
    # more than the share of it and the seconds that follow.
    least_seconds_a_measure: float = 1.0
    good_seconds_a_measure: float = 3.0
    first_measures: int = 2
    measures_slack_share: float = 0.2
    measures_slack_seconds: float = 5.0
    # The same for one more bay, head or day: less a search needs to be worth waiting for.
    least_seconds_a_worth: float = 2.0
    # Share of the time for the best combination of enquiries; the next best have what is left.
    best_combination_share: float = 0.5
    # What is kept of the time to find out what options not taken would have had to pay: a share,
    # no more than so much an option, and no more than so much in all.
    options_share: float = 0.1
    seconds_an_option: float = 1.0
    most_seconds_for_options: float = 10.0
    # Wall time for moving others in favour of one option; less than the least is not begun.
    most_seconds_to_move_others: float = 1.5
    least_seconds_to_move_others: float = 0.1
    # A stop while it gets ready leaves it so long to come to its first plan.
    seconds_to_first_plan: float = 3.0
    # For the fixed checks with a choice left, and for what still stands of an earlier plan.
    seconds_for_fixed_checks: float = 20.0
    seconds_for_earlier_plan: float = 5.0

    # So many candidates are looked at together in any case, more of them the longer the search.
    fewest_columns: int = 120_000
    columns_a_second: int = 4_000
    most_columns: int = 300_000
    # So many courses (a check's in days, paces and waits) are laid out in any case.
    fewest_courses: int = 60_000
    courses_a_second: int = 2_000
    most_courses: int = 200_000
    # A part of a base too large to be looked at together is searched for so long at the least,
    # and for so many times what it takes to make one.
    least_seconds_a_part: float = 12.0
    times_of_making_a_part: float = 4.0
    # What is kept of the time for the last audit of such a base.
    audit_share: float = 0.03
    least_seconds_for_audit: float = 0.5

    # Starting the sides takes some two seconds; a program of so many columns is often done before.
    small_columns: int = 1500
    seconds_at_once: float = 0.7
    # And that where days are priced, so many times as long: several are solved one after the other.
    times_at_once_by_day: float = 5.0
    # How long a word of the sides is waited for at a time, and a side between two looks.
    seconds_between_looks: float = 0.1
    # A side tells of no more than one better plan in so long.
    seconds_between_words: float = 0.2
    # The sides are given a little less than the whole, to hear their last words.
    seconds_for_last_words: float = 0.3
    # The coordinator hears nobody meanwhile.
    seconds_to_relax: float = 2.0
    # Share of the time after which a part that has shown no plan for which it suffices is left:
    # the whole takes longer to get going.
    give_up_share: float = 0.5
    # What is kept of the time for the last look, where single checks and any two of them move.
    last_look_share: float = 0.05
    least_seconds_for_last_look: float = 1.0
    most_seconds_for_last_look: float = 5.0
    seconds_for_last_look_after_a_stop: float = 2.0
    # For another such look when an option was taken after all.
    seconds_to_look_again: float = 1.0

    # With fewer entries than this in lazy rows, all of these are taken in from the start.
    most_entries_at_once: int = 300_000
    # Columns that no choice has are looked for with so few days past allowed: with more, hardly
    # any is impossible. Not where more pairs of footprints meet in the rows than this: telling
    # which exclude each other takes many seconds then, and up to eight bytes a pair.
    most_days_probed: int = 10
    most_meetings: int = 300_000_000
    # A program of so many columns is searched whole. Of a larger one, columns with more days past
    # than this are left out at first.
    most_columns_searched_whole: int = 20_000
    most_days_at_first: int = 7
    # So many of the checks most related to an option not taken may move for it.
    checks_moved_for_an_option: int = 8

    # The first annealing is short, so that there is a good plan within seconds; each further
    # one is longer by this factor. Many short ones beat few long ones where bays lie behind bays.
    first_annealing_seconds: float = 2.0
    annealing_growth: float = 1.5
    # Share of each annealing's time, but the first's, for many short ones from nothing and from
    # good plans crossed over; none with so many checks that plans are annealed by windows. Of how
    # many rounds a check the shortest are, and how many good plans are kept to cross over.
    breeding_share: float = 0.75
    short_rounds_a_check: int = 200
    most_parents: int = 12
    # After so many such annealings the plans kept are joined, for so long at the most: as many of
    # them as have no more columns than these together.
    annealings_between_joins: int = 24
    seconds_to_join: float = 2.5
    most_joined_columns: int = 260
    # Further sides that find plans do one thing for most of their time: the same share of those
    # that cross plans over, and of those that solve neighbourhoods.
    further_breeding_share: float = 0.95
    further_polish_share: float = 0.8
    # Share of the time in which further sides anneal from their own best plan, whatever the others
    # have found, even with fewer days past.
    apart_share: float = 0.6
    # With many checks: share of the time in which plans are annealed as a whole, and that of one
    # window. A year came to 417,000 to 423,000 so in 240 s, and to 426,500 to 427,500 without.
    whole_share: float = 0.1
    window_share: float = 0.025
    # How many checks a window has: about those of a quarter. With 80 it was worse, with 30 and 40
    # no better (a year, 240 s). With no more than the second a plan is annealed as a whole only.
    window_checks: int = 50
    most_checks_without_windows: int = 100
    # Share of an annealing's time given to neighbourhoods, and how long one of them may take.
    polish_share: float = 0.1
    # With so many columns, those of a hangar, annealing leaves much that wide neighbourhoods find.
    # After each annealing they have so many times its seconds, and so many at the least; one has
    # these at the most. The proving side has them too, between the promising columns and all, for
    # such a share of the time left, unless the relaxation is so far below the best plan, as a share
    # of what is spent and earned, that most is left to prove.
    fewest_columns_for_wide: int = 25_000
    wide_times: float = 3.0
    least_wide_seconds: float = 20.0
    wide_seconds: float = 10.0
    wide_proving_share: float = 0.5
    most_gap_to_widen: float = 0.33
    # As long as there may be fewer days past, they are for these alone until so many annealings
    # have brought none fewer.
    turns_for_days: int = 3
    # Where days are priced the rounds are guided by weeks only: what days cost is found here.
    polish_by_day_share: float = 0.6
    # And the proving side solves the columns that relaxations took, for so much of the time left.
    supports_share: float = 0.3
    polish_seconds: float = 1.5
    # Share of an annealing's time in which single checks, and any two, are moved where that saves
    # something. Less time than so much is hardly worth the beginning.
    descent_share: float = 0.05
    # The program is cut down in the middle of an annealing when days past fall to such a share of
    # what they were.
    fewer_days_share: float = 0.5
    least_descent_seconds: float = 0.2

    # So many columns of least reduced cost are solved by themselves before all are, then more of
    # them by this factor while there are as many, for such a share of the time left.
    promising_columns: int = 2_000
    promising_growth: float = 1.6
    promising_share: float = 0.35

    # The proof is at a standstill when its bound has closed less than such a share of the gap for
    # such a share of its time, and for so many seconds at the least. With more of a gap than so
    # much of the money the proving side then finds plans, too.
    standstill_gap_share: float = 0.01
    standstill_share: float = 0.15
    least_standstill_seconds: float = 8.0
    least_gap_to_find: float = 0.03

    # Share of the time left after which goal 1 is left unproven and the money is bounded.
    days_proof_share: float = 0.35
    # Share of the time left in which the other side may find as few days past as are proven.
    patience_share: float = 0.1
    # Share of the time left for which the other side's first word is waited for: the very first
    # search after an installation compiles its rounds.
    silence_share: float = 0.5
    # A program of so many columns is not waited with: branch-and-cut may be done sooner. With so
    # few checks it mostly is, before the plan could be called a good one.
    columns_not_waited_with: int = 3_000
    checks_not_waited_with: int = 12
    # A plan that has not been bettered for so long is a good one to begin with.
    settled_seconds: float = 2.0

    def __post_init__(self) -> None:
        """Check every value: shares are at most 1, the annealings do not shrink, numbers whole."""
        for field in fields(self):
            value = getattr(self, field.name)
            if field.type is int:
                whole_within(field.name, value, 0)
            elif field.name.endswith("_growth"):
                number_within(field.name, value, 1.0)
            else:
                number_within(
                    field.name, value, 0.0, *((1.0,) if field.name.endswith("_share") else ())
                )
