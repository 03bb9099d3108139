"""The cautions of a plan, each told once: none is lost, and a guess stays a guess."""

from dataclasses import replace

from capacity.cautions.applying import cautions_of_plan
from capacity.reports.plan.summed_cautions import summed_cautions
from tests.ui.plans import base, stay, view


def test_every_caution_of_the_plan_is_told_once_with_its_source():
    of = view()
    applied = cautions_of_plan(of.outcome.plan, of.base)
    summed = summed_cautions(of)
    assert len(applied) > len(summed)
    assert [told.text for told in summed] == list(dict.fromkeys(a.caution.text for a in applied))
    for told in summed:
        (source,) = {a.caution.source for a in applied if a.caution.text == told.text}
        assert told.source.startswith(source)


def test_a_caution_says_how_much_of_the_plan_it_concerns():
    # The stage "repair" of every check is done alone.
    both, one = view(), view(None, stay("C1", "B1", 0))
    assert concerns_of(both, "Nobody else works") == "2 checks, 2 stages"
    assert concerns_of(one, "Nobody else works") == "1 check, 1 stage"
    assert summed_cautions(one)[0].concerns == "the base"


def concerns_of(of, words: str) -> str:
    (found,) = (told for told in summed_cautions(of) if words in told.text)
    return found.concerns


def test_a_caution_that_only_a_name_suggests_says_so():
    of, name = view(None, stay("C1", "B1", 0)), "jacking"
    (package,), (placed,) = of.base.packages, of.outcome.plan.placements
    named = replace(package, stages=(package.stages[0], replace(package.stages[1], name=name)))
    done = replace(placed, stages=(placed.stages[0], replace(placed.stages[1], stage=name)))
    plan = replace(of.outcome.plan, placements=(done,))
    of = replace(of, base=base(packages=(named,)), outcome=replace(of.outcome, plan=plan))
    guesses = [told for told in summed_cautions(of) if "(a guess)" in told.why]
    assert [told.concerns for told in guesses] == ["1 check, 1 stage"]
