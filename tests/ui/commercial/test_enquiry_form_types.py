"""The form of the page Commercial offers packages of the chosen type; what is untold is said."""

from dataclasses import replace

from tests.ui.enquiry_plans import PAGE, asked, field, opened_tiny, planned_by_hand, put_on
from tests.ui.ways_through import desk_of, said


def page_with_types(app, **types):
    """Go to the page with a plan of the smallest sample whose packages name these types."""
    opened = opened_tiny()
    base = opened.book.base
    packages = tuple(
        replace(package, types=types.get(package.name.split()[0], ())) for package in base.packages
    )
    base = base.replace(packages=packages)
    put_on(
        desk_of(app),
        replace(opened, book=replace(opened.book, base=base)),
        planned_by_hand(base),
    )
    return app.switch_page(PAGE).run()


def test_only_packages_for_the_chosen_type_are_offered(app):
    page = page_with_types(app, Week=("Alder 50", "Linden 180"), Wash=("Linden 180",))
    assert field(page, "selectbox", "Aircraft type").value == "Alder 50"
    assert field(page, "selectbox", "Package").options == ["Week check"]
    field(page, "selectbox", "Aircraft type").set_value("Linden 180").run()
    assert not page.exception
    assert field(page, "selectbox", "Package").options == ["Week check", "Wash and inspect"]


def test_a_type_without_any_package_is_told_so(app):
    page = page_with_types(app, Week=("Linden 180",), Wash=("Linden 180",))
    assert field(page, "selectbox", "Package").options == []
    before = desk_of(page).job
    asked(page)
    assert not page.exception
    assert desk_of(page).job is before
    told = " ".join(str(value) for value in page.table[0].value.iloc[0])
    assert "no package is for" in told


def test_a_package_that_names_no_types_is_asked_about(app):
    page = page_with_types(app)
    field(page, "selectbox", "Package").set_value("Wash and inspect")
    asked(page)  # a wash of the large type is in the workbook, none of the small one
    assert not page.exception
    assert "What to know about the enquiry:" in said(page)
    told = " ".join(str(value) for value in page.table[0].value.iloc[0])
    assert "names no types" in told
    assert "Make sure that it is for" in told
