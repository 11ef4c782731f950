"""What is read off certificates; all of these are invented."""

from __future__ import annotations

from decimal import Decimal
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.certificates import CertificateReading, lines_of_text, read_certificate


def read(text: str) -> CertificateReading:
    return read_certificate(lines_of_text(dedent(text)))


def composition(text: str, heat: str = "") -> dict[str, str]:
    return {element: str(value) for element, value in read(text).composition_of(heat).items()}


def results(text: str, heat: str = "") -> dict[str, list[str]]:
    found = read(text).results_of(heat).items()
    return {name: [str(value) for value in values] for name, values in found}


STEEL = {"C": "0.08", "Si": "0.02", "Mn": "1.05", "P": "0.061", "S": "0.29", "Pb": "0.27"}


# --- composition


def test_values_stand_under_their_headings() -> None:
    text = """\
        Chemical composition [%]
        Heat      C     Si    Mn    P      S     Pb
        48213     0.08  0.02  1.05  0.061  0.29  0.27
    """
    assert composition(text) == STEEL
    assert composition(text, "48213") == STEEL


def test_a_decimal_comma_and_percent_signs_are_read() -> None:
    text = """\
        Schmelzanalyse
        C %     Si %    Mn %    P %     S %     Pb %
        0,08    0,02    1,05    0,061   0,29%   0,27
    """
    assert composition(text) == STEEL


def test_rows_of_limits_are_no_results() -> None:
    text = """\
                  C      Si     Mn     P      S      Pb
        min       -      -      0.90   -      0.27   0.20
        max.      0.14   0.05   1.30   0.11   0.33   0.35
        actual    0.08   0.02   1.05   0.061  0.29   0.27
    """
    assert composition(text) == STEEL


def test_ranges_and_signs_are_limits() -> None:
    text = """\
                  C       Si      Mn        P       S          Pb
                  <=0.14  <=0.05  0.90-1.30 <=0.11  0.27-0.33  0.20-0.35
        48213     0.08    0.02    1.05      0.061   0.29       0.27
    """
    assert composition(text) == STEEL


def test_an_empty_cell_stays_empty() -> None:
    text = """\
                  C      Si     Mn     P      S      Pb
        48213     0.08          1.05          0.29   0.27
    """
    assert composition(text) == {"C": "0.08", "Mn": "1.05", "S": "0.29", "Pb": "0.27"}


def test_columns_that_are_flush_right_are_read_with_gaps_too() -> None:
    text = """\
                    Cu      Pb      Zn     Fe     Sn
        7711     58.12    3.05    rest   0.21
    """
    assert composition(text) == {"Cu": "58.12", "Pb": "3.05", "Fe": "0.21"}


def test_a_value_below_detection_counts_as_its_limit() -> None:
    text = """\
        Cu      O        Bi       Pb
        99.97   0.0210   <0.0005  < 0.002
    """
    assert composition(text) == {"Cu": "99.97", "O": "0.0210", "Bi": "0.0005", "Pb": "0.002"}


def test_a_table_in_two_halves_is_one() -> None:
    text = """\
        Heat     C     Si    Mn
        48213    0.08  0.02  1.05
        Heat     P      S     Pb
        48213    0.061  0.29  0.27
    """
    assert composition(text) == STEEL


def test_capitals_are_read_as_symbols() -> None:
    text = """\
        C     SI    MN    P      S     PB
        0.08  0.02  1.05  0.061  0.29  0.27
    """
    assert composition(text) == STEEL


def test_elements_may_stand_below_each_other() -> None:
    text = """\
        Element   Min    Max    Actual
        Si        0.70   1.30   0.95
        Fe               0.50   0.21
        Mg        0.60   1.20   0.81
        Mn        0.40   1.00   0.55
    """
    assert composition(text) == {"Si": "0.95", "Fe": "0.21", "Mg": "0.81", "Mn": "0.55"}


def test_elements_below_each_other_with_one_value_need_no_headings() -> None:
    text = """\
        Si  0.95 %
        Mg  0.81 %
        Mn  0.55 %
    """
    assert composition(text) == {"Si": "0.95", "Mg": "0.81", "Mn": "0.55"}


@pytest.mark.parametrize(
    "line",
    [
        "C 0.08 Si 0.02 Mn 1.05 P 0.061 S 0.29 Pb 0.27",
        "C: 0.08 Si: 0.02 Mn: 1.05 P: 0.061 S: 0.29 Pb: 0.27 (mass %)",
        "C=0.08%, Si=0.02%, Mn=1.05%, P=0.061%, S=0.29%, Pb=0.27%",
    ],
)
def test_symbols_and_values_may_stand_in_one_line(line: str) -> None:
    assert composition(f"Ladle analysis\n{line}") == STEEL


def test_with_several_heats_the_row_of_the_heat_counts() -> None:
    text = """\
        Heat      C     Si    Mn
        48213     0.08  0.02  1.05
        48214     0.09  0.03  1.10
    """
    assert composition(text, "48214") == {"C": "0.09", "Si": "0.03", "Mn": "1.10"}
    assert composition(text, "48299") == {}
    assert composition(text) == {}


def test_the_analysis_of_the_cast_is_taken_before_that_of_the_product() -> None:
    text = """\
                  C     Si    Mn
        cast      0.08  0.02  1.05
        product   0.09  0.03  1.10
    """
    assert composition(text) == {"C": "0.08", "Si": "0.02", "Mn": "1.05"}


@pytest.mark.parametrize("scale", ["x100   x100   x100", "x 1000 x 1000 x 10", "10-2  10-2  10-2"])
def test_numbers_that_stand_multiplied_are_not_taken(scale: str) -> None:
    text = f"C      Si     Mn\n{scale}\n8      2      105\n"

    assert composition(text) == {}
    (note,) = read(text).notes
    assert note.startswith("composition: its numbers stand multiplied or in another unit")


def test_more_than_all_is_not_taken() -> None:
    assert composition("Cu    Pb    Zn\n58.1  30.5  38.8\n") == {}
    text = "C     Si    Mn\n0.08  2     105\n"
    assert composition(text) == {}
    assert read(text).notes == ("composition: Mn 105 cannot be: 0.08 2 105",)


def test_two_different_results_without_a_heat_are_not_taken() -> None:
    assert composition("C     Si    Mn\n0.08  0.02  1.05\n0.09  0.02  1.05\n") == {}


def test_sentences_are_no_tables() -> None:
    text = """\
        In case of complaint As soon As possible Be so kind to call No 0800 12
        Al in all 3 bundles of 12 bars, C 12
    """
    assert composition(text) == {}
    assert results(text) == {}


# --- strength


def test_results_stand_under_their_symbols() -> None:
    text = """\
        Test   Rm      Rp0,2   A5     HBW
               N/mm²   MPa     %
        1      560     470     9.5    165
        2      571     468     9,0    166
    """
    assert results(text) == {
        "Rm": ["560", "571"],
        "Rp0.2": ["470", "468"],
        "A": ["9.5", "9.0"],
        "HBW": ["165", "166"],
    }


def test_a_symbol_torn_apart_is_one_symbol() -> None:
    text = """\
        R m     Rp 0.2   A 5
        560     470      9.5
    """
    assert results(text) == {"Rm": ["560"], "Rp0.2": ["470"], "A": ["9.5"]}


def test_results_may_stand_below_each_other() -> None:
    text = """\
        Property                 Min   Max   Result
        Tensile strength Rm MPa  510   810   560
        Proof strength Rp0.2 MPa 440         470
        Elongation A %           6           9.5
    """
    assert results(text) == {"Rm": ["560"], "Rp0.2": ["470"], "A": ["9.5"]}


@pytest.mark.parametrize(
    "line", ["Rm: 560 MPa", "Rm = 560 N/mm²", "Rm 510-810 560 MPa", "Tensile strength Rm 560"]
)
def test_one_result_may_stand_in_a_line(line: str) -> None:
    assert results(line) == {"Rm": ["560"]}


@pytest.mark.parametrize("line", ["Rm min. 510", "Rm ≥ 510 MPa", "Rm 510-810", "Rm max 810 MPa"])
def test_a_limit_is_no_result(line: str) -> None:
    assert results(line) == {}


def test_results_in_other_units_are_not_taken() -> None:
    text = "Rm [ksi]  Rp0.2 [ksi]  A %\n81.2      68.1         9\n"

    assert results(text) == {}
    assert len(read(text).notes) == 1


# --- everything else


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("INSPECTION CERTIFICATE 3.1 according to EN 10204:2004", "3.1"),
        ("Inspection certificate EN 10204-3.1", "3.1"),
        ("Abnahmeprüfzeugnis 3.2 nach DIN EN 10204", "3.2"),
        ("Werkszeugnis 2.2", "2.2"),
        ("Test report\n2.2 EN 10204", "2.2"),
        ("Certificate according to EN 10204\nType 3.1", "3.1"),
        ("EN 10204 / 3.1.B", "3.1"),
        ("EN 10204:1991 3.1B", "3.1"),
        ("EN 10204 3.1.C", "3.2"),
        ("EN 10204 3.1 / 3.2", None),
        ("Certificate No. 13.1, page 2.2", "2.2"),
        ("density 3.1, length 2.2", None),
        ("", None),
    ],
)
def test_the_type_is_read_where_the_standard_or_the_document_is_named(
    text: str, kind: str | None
) -> None:
    found = read(text).certificate_type
    assert (found.value if found else None) == kind


@pytest.mark.parametrize(
    ("text", "heats"),
    [
        ("Heat No.: 48213", ["48213"]),
        ("Heat number 48213 Grade 1.0718", ["48213"]),
        ("Schmelze-Nr. A4/8213", ["A4/8213"]),
        ("Charge: K-7711", ["K-7711"]),
        ("Coulée n° 55120", ["55120"]),
        ("Cast: 8A-1 Melt: 8A-1", ["8A-1"]),
        ("Heat     Size\n48213    8\n48214    8", ["48213", "48214"]),
        ("Cast analysis according to standard\nHeat treatment none", []),
        ("Heat No. see table", []),
        ("free of charge\ncharge 2004", []),
    ],
)
def test_heats_are_read_behind_or_below_their_word(text: str, heats: list[str]) -> None:
    assert [found.value for found in read(text).heats] == heats


@pytest.mark.parametrize(
    ("text", "grades"),
    [
        ("Grade: 11SMnPb30+C (1.0718)", ["11SMnPb30"]),
        ("Material EN AW-6082 T6", ["EN AW-6082"]),
        ("Werkstoff CuZn39Pb3 / CW614N", ["CW614N"]),
        ("Grade: 42CrMo4 +QT", ["42CrMo4 +QT"]),
        ("1.0715\n1.0718", ["11SMn30", "11SMnPb30"]),
        ("Quality management as of ISO", []),
    ],
)
def test_grades_are_read_by_any_name(text: str, grades: list[str]) -> None:
    assert [found.value for found in read(text).grades] == grades


@pytest.mark.parametrize(
    ("text", "diameter", "length"),
    [
        ("Round bar Ø 8.00 mm h9 x 3000 mm", "8", "3000"),
        ("round 12,5 mm", "12.5", None),
        ("Dia. 16 mm", "16", None),
        ("8 h9 x 3000", "8", "3000"),
        ("8,00 x 3000 mm", "8", "3000"),
        ("Ø 8 and Ø 10", None, None),
        ("bundle of 12 x 8 bars", None, None),
    ],
)
def test_dimensions_are_read(text: str, diameter: str | None, length: str | None) -> None:
    reading = read(text)
    assert (reading.diameter_mm.value if reading.diameter_mm else None) == diameter
    assert (reading.length_mm.value if reading.length_mm else None) == length


def test_what_was_found_comes_with_its_line_and_page() -> None:
    lines = [*lines_of_text("first page", 1), *lines_of_text("Our heat no. 48213, paid", 2)]
    (heat,) = read_certificate(lines).heats
    assert (heat.line, heat.page) == ("Our heat no. 48213, paid", 2)


@pytest.mark.parametrize(
    ("number", "is_named"),
    [
        ("48213", True),
        ("4 82 13", True),
        ("A-77", True),
        ("a77", True),
        ("8213", False),
        ("482", False),
        ("771", False),
        ("", False),
        ("-", False),
    ],
)
def test_a_number_is_named_as_a_whole(number: str, is_named: bool) -> None:
    assert read("Heat:48213/2 lot A 77 of 1").names(number) is is_named


# --- laws

WORDS = st.sampled_from(
    "C Si Mn P S Pb Rm Rp0.2 A HB 0.08 1,05 12 560 <0.01 0.2-0.3 min max - x100 Heat No. 48213 "
    "3.1 EN 10204 Ø 8 x 3000 Grade 1.0718 % MPa = : ≥".split()
)
LIKELY = st.lists(st.lists(WORDS | st.just("   "), max_size=12).map(" ".join), max_size=12)


@given(st.text(max_size=400) | LIKELY.map("\n".join))
def test_any_text_is_read_without_an_error(text: str) -> None:
    reading = read_certificate(lines_of_text(text))

    for heat in ("", "48213"):
        values = reading.composition_of(heat).values()
        assert all(0 <= value <= 100 for value in values)
        assert all(result for result in reading.results_of(heat).values())


SYMBOLS = ["C", "Si", "Mn", "P", "S", "Pb", "Cr", "Ni"]
VALUES = st.decimals(Decimal("0.001"), Decimal(9), places=3)


@given(values=st.lists(st.none() | VALUES, min_size=3, max_size=8))
def test_a_table_is_read_as_it_was_written(values: list[Decimal | None]) -> None:
    symbols = SYMBOLS[: len(values)]
    cells = ["" if value is None else f"{value}" for value in values]
    text = "\n".join(
        ["label".ljust(10) + "".join(each.ljust(8) for each in row) for row in (symbols, cells)]
    )

    expected = {s: v for s, v in zip(symbols, values, strict=True) if v is not None}
    assert read_certificate(lines_of_text(text)).composition_of() == expected


def test_a_huge_text_is_read_in_its_beginning() -> None:
    text = "C Si Mn P S\n" + "0.1 " * 100_000 + "\n" + "x" * 100_000 + "\n1 2 3\n" * 10_000
    assert read_certificate(lines_of_text(text)).heats == ()
