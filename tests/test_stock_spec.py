"""The paper on the table, how it is cut, and the class, as a spec writes them: every key, and every way to get it wrong."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from bookplates.pipeline import plan, problems_of, spec_schema
from bookplates.pipeline.book import checked_spec
from bookplates.spec.model import Spec
from bookplates.spec.placed import placed
from bookplates.spec.stock import MATERIALS, Stock

SAMPLES = Path(__file__).parent.parent / "sample_specs"
BOOK = """title = "Limpets"
[text_block]
sheet = "A4"
format = "quarto"
sheets = 5
[cover]
style = "taped"
"""
"""Seven lines: what a test adds begins on line 8."""


def spec_with(text: str) -> Spec:
    return checked_spec(BOOK + text, for_printing=False)


def stock(text: str, material: str = "board") -> Stock:
    """One entry: a material, a name and what is given."""
    (entry,) = spec_with(f'[[stock]]\nmaterial = "{material}"\nname = "it"\n{text}\n').stock
    return entry


def told(text: str) -> list[str]:
    """What is said of a book with this added to it: line, key and what is wrong."""
    source = BOOK + text
    found = placed(problems_of(source), "b", source.encode())
    return [f"{place.partition(':')[2]} {problem}" for place, problem in found]


def only(text: str) -> str:
    (line,) = told(text)
    return line


def of_stock(text: str, material: str = "board") -> str:
    """What is said of one entry whose own keys begin on line 11."""
    return only(f'[[stock]]\nmaterial = "{material}"\nname = "it"\n{text}\n')


class TestStock:
    def test_every_key_is_read(self) -> None:
        entry = stock(
            'size = "50 x 70 cm"\ngrain = "short"\nagainst_grain = true\npattern = "two-way"\ncount = 3\nprice = "2.80 a sheet"'
        )
        assert tuple(entry.size or ()) == pytest.approx((500, 700))
        assert (entry.grain, entry.against_grain, entry.pattern) == ("short", True, "two-way")
        assert (entry.count, entry.price, entry.length, entry.on_roll) == (3, "2.80 a sheet", None, False)

    def test_what_is_not_written(self) -> None:
        entry = stock('size = "A3"')
        assert (entry.grain, entry.against_grain, entry.pattern, entry.count, entry.price) == ("none", False, "none", None, "")

    @pytest.mark.parametrize("material", [name for name in MATERIALS if name != "thread"])
    def test_all_but_thread_may_come_in_sheets(self, material: str) -> None:
        assert stock('size = "A3"', material).size is not None

    @pytest.mark.parametrize("material", ["tape", "thread"])
    def test_tape_and_thread_come_by_the_length(self, material: str) -> None:
        assert stock("length = 250", material).length == pytest.approx(250)

    @pytest.mark.parametrize(
        ("written", "mm"),
        [
            ("5 m", 5000),
            ("5m", 5000),
            ("2.5 metres", 2500),
            ("1 meter", 1000),
            ("10 ft", 3048),  # a foot is 304.8 mm
            ("10 feet", 3048),
            ("5 yd", 4572),  # a yard is 914.4 mm, since 1959
            ("2 1/2 yards", 2286),  # 2.5 x 914.4
            ("1000 m", 1_000_000),
            ("60 cm", 600),
            ("500 mm", 500),
            ("100 in", 2540),
        ],
    )
    def test_lengths_of_a_roll(self, written: str, mm: float) -> None:
        assert stock(f'length = "{written}"', "tape").length == pytest.approx(mm)

    @pytest.mark.parametrize(
        ("written", "kept"),
        [("1.20", "1.20"), ("1.2", "1.20"), ("3", "3"), ("3.0", "3.00"), ("1.125", "1.125"), ('"€ 1,20"', "€ 1,20"), ('""', "")],
    )
    def test_a_price_is_a_number_or_any_words(self, written: str, kept: str) -> None:
        assert stock(f'size = "A3"\nprice = {written}').price == kept

    def test_none_on_hand_is_none(self) -> None:
        assert stock('size = "A3"\ncount = 0').count == 0

    def test_bare_numbers_count_in_units(self) -> None:
        source = 'units = "in"\n' + BOOK + '[[stock]]\nmaterial = "tape"\nname = "it"\nlength = 36\nwidth = 4\n'
        (entry,) = checked_spec(source, for_printing=False).stock
        assert (entry.length, entry.width) == (pytest.approx(914.4), pytest.approx(101.6))

    def test_two_may_have_one_name(self) -> None:
        entry = '[[stock]]\nmaterial = "board"\nname = "grey board"\nsize = "A3"\n'
        assert [one.name for one in spec_with(2 * entry).stock] == ["grey board", "grey board"]

    def test_none_at_all(self) -> None:
        assert checked_spec("stock = []\n" + BOOK, for_printing=False).stock == ()

    def test_a_book_is_the_same_with_it(self) -> None:
        entry = '[[stock]]\nmaterial = "board"\nname = "it"\nsize = "A3"\n[cutting]\nblade = 1\n[class]\nstudents = 12\n'
        assert plan(BOOK + entry) == plan(BOOK)


class TestStockAtFault:
    @pytest.mark.parametrize(
        ("text", "material", "expected"),
        [
            ('length = "5 m"', "board", "11 stock.1.length: board comes in sheets, and only tape and thread by the length;"),
            ('length = "5 m"', "cloth", "11 stock.1.length: cloth comes in sheets, and only tape and thread by the length;"),
            ('size = "A4"', "thread", "11 stock.1.size: thread comes in no sheets; length, of what is on a reel"),
            ('length = "5 m"\nwidth = 3', "thread", "12 stock.1.width: is only for a roll of tape, not for thread; leave it out"),
            ('size = "A4"\nlength = "5 m"', "tape", "12 stock.1.length: excludes size, and both are written; length or size"),
            ('size = "A4"\nwidth = 30', "tape", "12 stock.1.width: excludes size, and both are written; width or size"),
            ("count = 1", "board", "8 stock.1.size: is missing, and so is length; size or length"),
            ('size = "10 x 300 mm"', "board", "11 stock.1.size: 10 × 300 mm (13/32 in"),
            ('size = "A3x"', "board", "11 stock.1.size: 'A3x' is no sheet known here;"),
            ('size = "A3"\ngrain = "head to tail"', "board", "12 stock.1.grain: 'head to tail' is not one of its values; "),
            ('size = "A3"\npattern = "leaves"', "board", "12 stock.1.pattern: 'leaves' is not one of its values; "),
            ('size = "A3"\ncount = -1', "board", "12 stock.1.count: -1 is out of range; at least 0"),
            ('size = "A3"\ncount = 2.5', "board", "12 stock.1.count: 2.5 is of the wrong kind; a whole number"),
            ('size = "A3"\ncount = "3"', "board", "12 stock.1.count: '3' is of the wrong kind; a whole number"),
            ('size = "A3"\nagainst_grain = 1', "board", "12 stock.1.against_grain: 1 "),
            ('size = "A3"\nprice = true', "board", "12 stock.1.price: true is of the wrong kind; "),
            ('size = "A3"\nprice = inf', "board", "12 stock.1.price: inf is no price; a number, or any words in quotes"),
            ('size = "A3"\nprice = "1\\t2"', "board", "12 stock.1.price: holds control characters (U+0009); "),
            ('size = "A3"\ngrian = "long"', "board", "12 stock.1.grian: 'grian' is no key of [[stock]]; the nearest is grain"),
            ('length = "5,5 m"', "tape", "11 stock.1.length: '5,5' has a decimal comma; write 5.5"),
            ('length = "2 km"', "tape", "11 stock.1.length: '2 km' has an unknown unit, 'km'; mm, cm, m, in, ft or yd"),
            ('length = "1 mm"', "tape", "11 stock.1.length: '1 mm' is out of range; 50 mm to 1,000 m"),
            ("length = 5", "tape", "11 stock.1.length: 5 mm is out of range; 50 mm to 1,000 m"),
            ('length = "1001 m"', "tape", "11 stock.1.length: '1001 m' is out of range; 50 mm to 1,000 m"),
            ('length = "m"', "tape", "11 stock.1.length: 'm' does not begin with a number; "),
        ],
    )
    def test_a_key(self, text: str, material: str, expected: str) -> None:
        assert of_stock(text, material).startswith(expected)

    @pytest.mark.parametrize(
        ("text", "expected"),
        [
            ('[stock]\nmaterial = "board"\n', "8 stock: is not a list of tables; [[stock]], in two brackets,"),
            ("[[stok]]\nmaterial = 5\n", "8 stok: 'stok' is no key of a spec; the nearest is stock"),
            ('[stok]\nmaterial = "board"\n', "8 stok: 'stok' is no key of a spec; the nearest is stock"),
            ("[[class]]\nstudents = 3\n", "8 class: a list is not a table; [class] on a line of its own"),
            ("[[cutting]]\nblade = 1\n", "8 cutting: a list is not a table; [cutting] on a line of its own"),
        ],
    )
    def test_brackets(self, text: str, expected: str) -> None:
        assert told(text)[0].startswith(expected)

    @pytest.mark.parametrize("value", ["5", '"A3"', "[1]", "[[]]", "true"])
    def test_no_tables(self, value: str) -> None:
        (problem,) = problems_of(f"stock = {value}\n" + BOOK)
        assert (problem.where, problem.what) == ("stock", "is not a list of tables")

    def test_every_entry_is_told_of_at_its_own_line(self) -> None:
        good = '[[stock]]\nmaterial = "board"\nname = "it"\nsize = "A3"\n'
        bad = '[[stock]]\nmaterial = "bord"\nsize = "A33"\n'
        assert [line.split(":")[0] for line in told(good + bad + good + bad)] == [
            "12 stock.2.name",  # missing: told where its table begins
            "13 stock.2.material",
            "14 stock.2.size",
            "19 stock.4.name",
            "20 stock.4.material",
            "21 stock.4.size",
        ]

    def test_more_than_anybody_has(self) -> None:
        assert told("[[stock]]\n" * 201) == ["8 stock: has 201 entries; 200 at most"]

    def test_entries_written_in_one_line(self) -> None:
        source = (
            'stock = [{material = "board", name = "it", size = "A3"}, {material = "board", name = " ", size = "A3"}]\n' + BOOK
        )
        ((place, problem),) = placed(problems_of(source), "b", source.encode())
        assert (place, problem.where, problem.what) == ("b:1", "stock.2.name", "is empty")

    def test_a_fault_in_a_misspelt_table_is_told_under_that_name(self) -> None:
        lines = told('[[stok]]\nmaterial = "bord"\nname = "it"\nsize = "A3"\n')
        assert [line.split(":")[0] for line in lines] == ["8 stok", "9 stok.1.material"]

    def test_a_bad_title_does_not_change_the_unit(self) -> None:
        source = (
            'units = "in"\n' + BOOK.replace('"Limpets"', '""') + '[[stock]]\nmaterial = "board"\nname = "it"\nsize = [10, 15]\n'
        )
        assert [problem.where for problem in problems_of(source)] == ["title"]  # a sheet of 10 mm would be refused

    @pytest.mark.parametrize(
        ("text", "material", "where"),
        [
            ('length = "5 m"\ngrain = "long"', "tape", "stock.1.grain"),
            ('length = "5 m"\npattern = "one-way"', "thread", "stock.1.pattern"),
            ('length = "5 m"\nagainst_grain = true', "tape", "stock.1.against_grain"),
            ('size = "A3"\nagainst_grain = true', "board", "stock.1.against_grain"),
        ],
    )
    def test_what_plays_no_part_is_warned_of(self, text: str, material: str, where: str) -> None:
        warnings = plan(BOOK + f'[[stock]]\nmaterial = "{material}"\nname = "it"\n{text}\n').warnings
        (problem,) = [warning for warning in warnings if warning.where.startswith("stock")]
        assert problem.where == where
        assert problem.what.startswith("plays no part")


class TestCutting:
    def test_it_is_read(self) -> None:
        cutting = spec_with('[cutting]\nblade = "1/16 in"\noffcut = 40\n').cutting
        assert (cutting.blade, cutting.offcut) == (pytest.approx(1.5875), 40)  # 25.4 / 16

    def test_usual(self) -> None:
        assert (spec_with("").cutting.blade, spec_with("").cutting.offcut) == (0, 30)

    def test_at_fault(self) -> None:
        assert [line.split(";")[0] for line in told('[cutting]\nblade = "11 mm"\nofcut = 3\n')] == [
            "9 cutting.blade: 11 mm is out of range",
            "10 cutting.ofcut: 'ofcut' is no key of [cutting]",
        ]


class TestClass:
    @pytest.mark.parametrize(
        ("written", "students"),
        [
            ("3", ("", "", "")),
            ('["Ana", "", " Zoë\\n Quill "]', ("Ana", "", "Zoë Quill")),
            ('["佐藤", "Ana", "Ana"]', ("佐藤", "Ana", "Ana")),
        ],
    )
    def test_a_number_or_names(self, written: str, students: tuple[str, ...]) -> None:
        taught = spec_with(f"[class]\nstudents = {written}\n").taught
        assert taught is not None
        assert taught.students == students

    @pytest.mark.parametrize(
        ("written", "share"), [('"10 %"', 0.1), ('"10%"', 0.1), ('"12.5 %"', 0.125), ("10", 0.1), ("0", 0), ('"100 %"', 1)]
    )
    def test_spare_is_a_share(self, written: str, share: float) -> None:
        taught = spec_with(f"[class]\nspare = {written}\n").taught
        assert taught is not None
        assert taught.spare == pytest.approx(share)

    def test_an_empty_one_is_one_person_and_a_tenth_to_spare(self) -> None:
        taught = spec_with("[class]\n").taught
        assert taught is not None
        assert (taught.students, taught.spare, taught.title, taught.date) == (("",), 0.1, "", "")

    @pytest.mark.parametrize(
        ("text", "expected"),
        [
            ("students = []", "9 class.students: the list is empty; a number, or a list of names"),
            ("students = 0", "9 class.students: 0 is out of range; 1 to 2,000"),
            ("students = 2001", "9 class.students: 2001 is out of range; 1 to 2,000"),
            ("students = [" + 2001 * "1,\n" + "]", "9 class.students: 2,001 names are out of range; 1 to 2,000"),
            (f"students = {10**30}", "9 class.students: so many is out of range; 1 to 2,000"),
            ("students = 1.5", "9 class.students: 1.5 is neither a number nor a list of names; "),
            ("students = true", "9 class.students: true is neither a number nor a list of names; "),
            ('students = "12"', "9 class.students: '12' is neither a number nor a list of names; "),
            ('students = ["Ana", 3]', "9 class.students: 3 is not a name; names in quotes"),
            ('spare = "ten"', "9 class.spare: 'ten' is not a share; write it like \"10 %\""),
            ('spare = "101 %"', '9 class.spare: \'101 %\' is out of range; "0 %" to "100 %"'),
            ('spare = "-1 %"', "9 class.spare: '-1 %' is not a share; "),
            ("spare = 0.1", '9 class.spare: 0.1 may be a share or a percentage; write it like "10 %"'),
            ("spare = true", "9 class.spare: true is not a share; "),
            ("date = 2031-05-06", "9 class.date: a date is of the wrong kind; text in quotes"),
            ('title = "佐"', "9 class.title: holds letters that the printed font lacks: "),
            ("studnets = 3", "9 class.studnets: 'studnets' is no key of [class]; the nearest is students"),
        ],
    )
    def test_at_fault(self, text: str, expected: str) -> None:
        assert only(f"[class]\n{text}\n").startswith(expected)


VALUES = st.recursive(
    st.none().map(lambda _: "A3")
    | st.booleans()
    | st.integers(-10, 10**7)
    | st.floats()
    | st.text(max_size=12)
    | st.sampled_from(["A3", "5 m", "board", "tape", "thread", "long", "one-way", "10 %", "8 x 8 in", "1,5 m", "-2 yd", "1/0 m"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["size", "name", "x"]), inner, max_size=2),
    max_leaves=4,
)
KEYS = st.sampled_from([*Stock.model_fields, "grian", "Size", "units", "x"])


class TestBroken:
    @given(
        entries=st.lists(st.dictionaries(KEYS, VALUES, max_size=6), max_size=3),
        others=st.dictionaries(
            st.sampled_from(["cutting", "class", "stok", "stock"]),
            VALUES
            | st.dictionaries(st.sampled_from(["blade", "offcut", "students", "spare", "date", "title"]), VALUES, max_size=4),
            max_size=2,
        ),
    )
    @settings(deadline=None, max_examples=150)
    def test_findings_never_a_traceback(self, entries: list[dict], others: dict) -> None:
        raw = {**tomllib.loads(BOOK), "stock": entries, **others}
        source = tomli_w.dumps(raw).encode()
        for place, problem in placed(problems_of(source), "b", source):
            assert int(place.partition(":")[2]) >= 1
            assert problem.where
            assert problem.what

    @given(
        entry=st.fixed_dictionaries(
            {"material": st.sampled_from(MATERIALS), "name": st.just("it")},
            optional={
                "size": st.sampled_from(["A3", "8 x 8 in", [300, 400]]),
                "length": st.sampled_from(["5 m", 300]),
                "width": st.sampled_from(["4 in", 30]),
                "grain": st.sampled_from(["long", "short", "none"]),
                "price": st.sampled_from(["2.80", 1, 1.5]),
                "count": st.integers(0, 5),
            },
        )
    )
    @settings(deadline=None)
    def test_what_is_taken_the_schema_takes(self, entry: dict) -> None:
        raw = {**tomllib.loads(BOOK), "stock": [entry]}
        if problems_of(tomli_w.dumps(raw)) == ():
            assert SCHEMA.is_valid(raw)


SCHEMA = Draft202012Validator(spec_schema())


class TestSchema:
    @pytest.mark.parametrize("sample", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.stem)
    def test_it_takes_the_samples(self, sample: Path) -> None:
        source = sample.read_text(encoding="utf-8")
        assert problems_of(source) == ()
        assert [error.message for error in SCHEMA.iter_errors(tomllib.loads(source))] == []

    @pytest.mark.parametrize(
        ("table", "value"),
        [
            ("stock", {"material": "board", "name": "it", "size": "A3"}),
            ("stock", [{"material": "bord", "name": "it", "size": "A3"}]),
            ("stock", [{"name": "it", "size": "A3"}]),
            ("stock", [{"material": "board", "name": "it", "size": "A3", "grian": "long"}]),
            ("stock", [{"material": "board", "name": "it", "size": "A3", "count": "3"}]),
            ("cutting", {"ofcut": 3}),
            ("class", {"students": "12"}),
            ("class", {"students": ["Ana", 3]}),
            ("class", {"date": 2031}),
        ],
    )
    def test_it_refuses_what_is_refused(self, table: str, value: object) -> None:
        assert not SCHEMA.is_valid({**tomllib.loads(BOOK), table: value})
