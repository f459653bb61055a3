from __future__ import annotations

import contextlib
import math
import struct
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.errors import QuantityError
from models.quantity import UNITS, format_quantity, parse_quantity, unbroken

GOOD: list[tuple[object, str, float]] = [
    # SI text
    ("2.2 nF", "F", 2.2e-9),
    ("2.2nF", "F", 2.2e-9),
    ("2.2\u00a0nF", "F", 2.2e-9),
    ("2.2\u202fnF", "F", 2.2e-9),
    ("  2.2 nF  ", "F", 2.2e-9),
    ("+2.2 nF", "F", 2.2e-9),
    ("60 pF", "F", 60e-12),
    ("10 uF", "F", 10e-6),
    ("10 \u00b5F", "F", 10e-6),
    ("10 \u03bcF", "F", 10e-6),
    ("3 farads", "F", 3.0),
    ("65 kHz", "Hz", 65e3),
    ("65 KHz", "Hz", 65e3),
    ("1 GHz", "Hz", 1e9),
    ("30 MHz", "Hz", 30e6),
    ("20 mHz", "Hz", 0.02),
    ("50 Hz", "Hz", 50.0),
    ("40 mohm", "ohm", 0.04),
    ("40 mΩ", "ohm", 0.04),
    ("40 m\u2126", "ohm", 0.04),
    ("40 mR", "ohm", 0.04),
    ("150 ohm", "ohm", 150.0),
    ("4.7 kohms", "ohm", 4700.0),
    ("1 Mohm", "ohm", 1e6),
    ("1 TΩ", "ohm", 1e12),
    ("12nH", "H", 12e-9),
    ("3 uH", "H", 3e-6),
    ("0.5 mA", "A", 0.5e-3),
    (".5 mA", "A", 0.5e-3),
    ("5. A", "A", 5.0),
    ("230 V", "V", 230.0),
    ("8 kV", "V", 8e3),
    ("3.3 volts", "V", 3.3),
    ("30 ns", "s", 30e-9),
    ("1.5 s", "s", 1.5),
    ("1 ks", "s", 1000.0),
    ("1.5 m", "m", 1.5),
    ("6 mm", "m", 6e-3),
    ("2.5 cm", "m", 0.025),
    ("35 µm", "m", 35e-6),
    ("1.2 km", "m", 1200.0),
    # trade forms
    ("4k7", "ohm", 4700.0),
    ("4K7", "ohm", 4700.0),
    ("4k7 ohm", "ohm", 4700.0),
    ("4k7Ω", "ohm", 4700.0),
    ("4R7", "ohm", 4.7),
    ("0R", "ohm", 0.0),
    ("0R22", "ohm", 0.22),
    ("R47", "ohm", 0.47),
    ("100R", "ohm", 100.0),
    ("10k", "ohm", 10e3),
    ("1M", "ohm", 1e6),
    ("1m", "ohm", 1e-3),
    ("4m7", "ohm", 4.7e-3),
    ("1meg", "ohm", 1e6),
    ("1 Meg", "ohm", 1e6),
    ("2.2 MEG", "ohm", 2.2e6),
    ("1 megohm", "ohm", 1e6),
    ("2n2", "F", 2.2e-9),
    ("2n2F", "F", 2.2e-9),
    ("2n2 F", "F", 2.2e-9),
    ("100n", "F", 100e-9),
    ("100 n", "F", 100e-9),
    ("3p3", "F", 3.3e-12),
    ("1u5", "F", 1.5e-6),
    ("1µ5", "F", 1.5e-6),
    ("n47", "F", 0.47e-9),
    ("4,7n", "F", 4.7e-9),
    ("0,125 µF", "F", 0.125e-6),
    ("4u7", "H", 4.7e-6),
    ("3V3", "V", 3.3),
    ("2A5", "A", 2.5),
    ("30M", "Hz", 30e6),
    ("2M4", "Hz", 2.4e6),
    ("10n", "s", 10e-9),
    ("35u", "m", 35e-6),
    ("5m", "m", 5.0),
    # bare numbers, exponents, ratios
    ("1e-9", "F", 1e-9),
    ("2.2e-9 F", "F", 2.2e-9),
    ("2.2E-9", "F", 2.2e-9),
    ("1e\u22129", "F", 1e-9),
    ("1e3 kΩ", "ohm", 1e6),
    ("4e7", "ohm", 4e7),
    ("4.0E7", "ohm", 4e7),
    ("4E+7", "ohm", 4e7),
    ("4E7", "Hz", 4e7),
    ("5e-324", "V", 5e-324),
    ("0e-999", "V", 0.0),
    ("50", "ohm", 50.0),
    (50, "ohm", 50.0),
    (2.2e-9, "F", 2.2e-9),
    (0, "ohm", 0.0),
    ("20 %", "", 0.2),
    ("20%", "", 0.2),
    ("2,5 %", "", 0.025),
    ("0.2", "", 0.2),
    (0.2, "", 0.2),
]

BAD: list[tuple[object, str]] = [
    # wrong unit, wrong case
    ("2.2 nH", "F"),
    ("4R7", "F"),
    ("3V3", "ohm"),
    ("20 %", "ohm"),
    ("2 m", ""),
    ("10k", ""),
    ("20 mhz", "Hz"),
    ("20 khz", "Hz"),
    ("20 MHZ", "Hz"),
    ("10 pf", "F"),
    ("10 NF", "F"),
    ("60 Vpp", "V"),
    ("60 V rms", "V"),
    ("60 dBµV", "V"),
    ("3 min", "s"),
    ("5 MM", "m"),
    # two readings in the trade
    ("10 MF", "F"),
    ("1M", "F"),
    ("4k7", "F"),
    ("10f", "F"),
    ("20m", "Hz"),
    ("4k7", "s"),
    ("1m5", "m"),
    ("M5", "m"),
    ("k47", "ohm"),
    ("4E7", "ohm"),
    ("1,000", "ohm"),
    ("4,700 k", "ohm"),
    ("1,000.0", "ohm"),
    ("1.000.000", "ohm"),
    ("1 000", "ohm"),
    ("1_000", "ohm"),
    # broken forms
    ("", "ohm"),
    ("   ", "ohm"),
    ("-", "ohm"),
    (".", "ohm"),
    ("5,", "ohm"),
    (",5", "ohm"),
    ("kΩ", "ohm"),
    ("4k7k", "ohm"),
    ("4k7n", "ohm"),
    ("4k7R", "ohm"),
    ("4R7R", "ohm"),
    ("4R7k", "ohm"),
    ("4.7k5", "ohm"),
    ("4k7.5", "ohm"),
    ("4 k7", "ohm"),
    ("4k 7", "ohm"),
    ("2.2 n F", "F"),
    ("2.2\nnF", "F"),
    ("2.2 nF\n", "F"),
    ("2.2 nF; 3 nF", "F"),
    ("2.2 nF ± 20 %", "F"),
    ("1/2", "F"),
    ("0x10", "F"),
    ("1e", "V"),
    ("1e5e5", "V"),
    ("--5", "V"),
    ("\u0665 V", "V"),
    ("５ V", "V"),
    ("1" + "0" * 64, "ohm"),
    # not a finite value of 0 or more
    ("-5 V", "V"),
    ("\u22125 V", "V"),
    ("-4k7", "ohm"),
    (-5, "V"),
    ("nan", "V"),
    ("inf", "V"),
    ("∞ Ω", "ohm"),
    ("1e400", "V"),
    ("1e99999999999999999999", "V"),
    ("1e-400", "V"),
    (math.nan, "V"),
    (math.inf, "V"),
    (10**400, "V"),
    # not a text or number
    (True, "V"),
    (None, "V"),
    ([1.0], "V"),
    ({"v": 1}, "V"),
    (b"5 V", "V"),
]


def bits(value: float) -> bytes:
    return struct.pack("<d", value)


def refusal(found: object, unit: str) -> QuantityError:
    with pytest.raises(QuantityError) as caught:
        parse_quantity(found, unit)
    return caught.value


@pytest.mark.parametrize(("found", "unit", "expected"), GOOD)
def test_good_text_gives_the_nearest_float(found: object, unit: str, expected: float) -> None:
    value = parse_quantity(found, unit)
    assert type(value) is float
    assert bits(value) == bits(expected)


@pytest.mark.parametrize(("found", "unit"), BAD)
def test_bad_text_is_refused_with_found_and_accepted_on_one_short_line(found: object, unit: str) -> None:
    error = refusal(found, unit)
    assert 0 < len(error.found) <= 42
    assert error.accepted.startswith(UNITS[unit].noun)
    assert UNITS[unit].example in error.accepted
    assert str(error) == f"found {error.found}; accepted: {error.accepted}"
    assert str(error).isprintable()
    if isinstance(found, str):
        assert error.found.startswith('"')
        assert error.found.endswith('"')


@pytest.mark.parametrize(
    ("found", "unit", "shown"),
    [
        ("2.2 nH", "F", '"2.2 nH"'),
        ("", "F", '""'),
        ('a"b', "F", r'"a\"b"'),
        ("\x1b[31m5\u202e", "V", r'"\x1b[31m5\u202e"'),
        ("x" * 40, "V", '"' + "x" * 40 + '"'),
        ("x" * 41, "V", '"' + "x" * 39 + '…"'),
        ("\n" * 10**6, "V", '"' + r"\n" * 19 + '\\…"'),
        (True, "V", "true"),
        (None, "V", "nothing"),
        ([], "V", "a list"),
        ({}, "V", "a table"),
        (b"5", "V", "a value of type bytes"),
        (-5.5, "V", "-5.5"),
        (math.nan, "V", "nan"),
    ],
)
def test_message_shows_what_was_found(found: object, unit: str, shown: str) -> None:
    assert refusal(found, unit).found == shown


@pytest.mark.parametrize("digits", [309, 400, 5000])
def test_a_whole_number_beyond_every_float_is_refused_without_printing_it(digits: int) -> None:
    error = refusal(10**digits, "V")
    assert error.found == "a whole number of more than 308 digits"
    assert "finite" in error.accepted


@pytest.mark.parametrize(
    ("found", "unit", "hint"),
    [
        ("20 mhz", "Hz", "mHz or MHz"),
        ("20 khz", "Hz", "case count: kHz"),
        ("10 pf", "F", "case count: pF"),
        ("1,000", "ohm", "1,000 could be 1.000 or 1000"),
        ("4E7", "ohm", "4R7 for a decimal point, 4e+7 for a power of ten"),
        ("-5 V", "V", "0 or more"),
        (math.inf, "V", "finite"),
        ("1e-400", "V", "4.9e-324 or more"),
        ("1" * 65, "V", "at most 64 characters"),
        ("2.2 nH", "F", "in F"),
    ],
)
def test_message_says_what_would_be_right(found: object, unit: str, hint: str) -> None:
    assert hint in refusal(found, unit).accepted


def test_64_characters_are_read_and_65_are_not() -> None:
    assert parse_quantity("0" * 62 + "5V", "V") == 5.0
    assert "64" in refusal("0" * 63 + "5V", "V").accepted


@pytest.mark.parametrize(("found", "expected"), [("-5 V", -5.0), ("\u22125 mV", -5e-3), ("-3V3", -3.3), (-5, -5.0)])
def test_negative_is_read_where_it_is_allowed(found: object, expected: float) -> None:
    assert parse_quantity(found, "V", allow_negative=True) == expected


def test_negative_zero_becomes_zero_unless_negative_is_allowed() -> None:
    assert bits(parse_quantity(-0.0, "V")) == bits(parse_quantity("-0 V", "V")) == bits(0.0)
    assert bits(parse_quantity("-0 V", "V", allow_negative=True)) == bits(-0.0)


def test_unknown_unit_is_the_callers_mistake() -> None:
    with pytest.raises(KeyError):
        parse_quantity("5", "furlong")


SI_POWERS = {"f": -15, "p": -12, "n": -9, "µ": -6, "u": -6, "m": -3, "c": -2, "": 0, "k": 3, "M": 6, "G": 9, "T": 12}


@pytest.mark.parametrize("unit", [name for name in UNITS if name])
def test_no_spelled_unit_collides_with_an_implied_prefix(unit: str) -> None:
    kind = UNITS[unit]
    for spelling in kind.spellings:
        for prefix in kind.prefixes:
            assert parse_quantity(f"3 {prefix}{spelling}", unit) == float(f"3e{SI_POWERS[prefix]}")


@pytest.mark.parametrize("unit", UNITS)
def test_examples_in_messages_are_themselves_accepted(unit: str) -> None:
    for example in UNITS[unit].example.split(" or "):
        assert parse_quantity(example.strip('"'), unit) > 0


@given(
    whole=st.integers(0, 10**20),
    part=st.text("0123456789", max_size=20),
    prefix=st.sampled_from("fpnµumkMGT"),
)
def test_text_gives_the_float_nearest_to_its_exact_value(whole: int, part: str, prefix: str) -> None:
    exact = Fraction(int(f"{whole}{part}"), 10 ** len(part)) * Fraction(10) ** SI_POWERS[prefix]
    assert parse_quantity(f"{whole}.{part} {prefix}Ω", "ohm") == float(exact)


@given(value=st.floats(allow_nan=False, allow_infinity=False), unit=st.sampled_from(sorted(UNITS)))
def test_lossless_text_reads_back_bit_for_bit(value: float, unit: str) -> None:
    text = format_quantity(value, unit)
    assert bits(parse_quantity(text, unit, allow_negative=True)) == bits(value)
    assert len(text) <= 40


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("value", [5e-324, 2.2250738585072014e-308, 1.7976931348623157e308, 0.1 + 0.2, 1e22, 1e23])
def test_lossless_text_reads_back_at_the_edges_of_float(value: float, unit: str) -> None:
    assert bits(parse_quantity(format_quantity(value, unit), unit)) == bits(value)


@given(exponent=st.integers(-320, 300), digits=st.integers(1, 9), unit=st.sampled_from(sorted(UNITS)), data=st.data())
def test_display_is_within_half_a_unit_of_the_last_digit(
    exponent: int, digits: int, unit: str, data: st.DataObject
) -> None:
    value = data.draw(st.floats(1.0, 10.0)) * 10.0**exponent
    text = format_quantity(value, unit, digits=digits)
    shown, exact = Fraction(parse_quantity(text, unit)), Fraction(value)
    ulp = Fraction(10) ** (math.floor(math.log10(value)) + 1 - digits)
    assert abs(shown - exact) <= ulp / 2 * (1 + Fraction(1, 10**6)) + Fraction(5e-324)


@given(value=st.floats(1e-15, 1e14), digits=st.integers(1, 6))
def test_display_has_an_engineering_prefix_and_no_trailing_zeros(value: float, digits: int) -> None:
    number = format_quantity(value, "ohm", digits=digits).split(" ")[0]
    assert 1 <= float(number) < 1000
    assert "." not in number or not number.endswith("0")
    assert len(number.replace(".", "").rstrip("0")) <= digits


@pytest.mark.parametrize("junk", ["5 V\x00", "\ud800", "5\u200bV", "5 \U0001f50b", "5²", "Ⅻ V", "5 V" + "\u0301"])
def test_odd_signs_are_refused_with_a_printable_message(junk: str) -> None:
    assert str(refusal(junk, "V")).encode("utf-8").decode("utf-8").startswith("found")


@given(
    st.text("0123456789.,-+eE pnumkMΩRFV%\u00a0\n", max_size=80) | st.text(max_size=80), st.sampled_from(sorted(UNITS))
)
def test_any_text_is_a_finite_value_of_0_or_more_or_a_quantity_error(text: str, unit: str) -> None:
    with contextlib.suppress(QuantityError):
        assert 0 <= parse_quantity(text, unit) < math.inf


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        (2.2e-9, "F", "2.2 nF"),
        (0.04, "ohm", "40 mΩ"),
        (120e3, "Hz", "120 kHz"),
        (1e9, "Hz", "1 GHz"),
        (1e12, "Hz", "1000 GHz"),
        (0.2, "", "20 %"),
        (1.0, "", "100 %"),
        (1.8, "", "1.8"),
        (0.6e-12, "F", "0.6 pF"),
        (1e-15, "F", "0.001 pF"),
        (350e-15, "H", "0.35 pH"),
        (12e-9, "H", "12 nH"),
        (100.0, "", "100"),
        (1e-7, "", "1e-7"),
        (0.0, "", "0 %"),
        (0.0, "ohm", "0 Ω"),
        (-0.0, "ohm", "-0 Ω"),
        (-0.05, "V", "-50 mV"),
        (1.6e-3, "m", "1.6 mm"),
        (0.15, "m", "150 mm"),
        (35e-6, "m", "35 µm"),
        (999.0, "m", "999 m"),
        (1200.0, "m", "1.2 km"),
        (3600.0, "s", "3600 s"),
        (0.1 + 0.2, "V", "300.00000000000004 mV"),
        (1e-17, "F", "1e-17 F"),
        (1e-320, "F", "1e-320 F"),
        (1e300, "ohm", "1e300 Ω"),
        (math.inf, "ohm", "∞ Ω"),
        (-math.inf, "V", "-∞ V"),
        (math.nan, "V", "NaN V"),
        (math.inf, "", "∞"),
    ],
)
def test_lossless_text(value: float, unit: str, expected: str) -> None:
    assert format_quantity(value, unit) == expected


@pytest.mark.parametrize(
    ("value", "unit", "digits", "expected"),
    [
        (55.943, "ohm", 3, "55.9 Ω"),
        (1000.0, "ohm", 3, "1 kΩ"),
        (999.95, "ohm", 3, "1 kΩ"),
        (999.4, "ohm", 3, "999 Ω"),
        (999.5e-12, "F", 3, "1 nF"),
        (1.005e3, "ohm", 3, "1.01 kΩ"),
        (2.2e-9, "F", 3, "2.2 nF"),
        (123456.0, "s", 3, "123000 s"),
        (1234567.0, "s", 3, "1.23e6 s"),
        (-0.0512, "V", 2, "\u221251 mV"),
        (-0.0, "V", 3, "0 V"),
        (-math.inf, "V", 3, "\u2212∞ V"),
        (0.9996, "", 3, "100 %"),
        (1e-320, "V", 3, "1e-320 V"),
    ],
)
def test_display_text(value: float, unit: str, digits: int, expected: str) -> None:
    assert format_quantity(value, unit, digits=digits) == expected


def test_no_significant_digits_are_refused() -> None:
    with pytest.raises(ValueError, match="prec"):
        format_quantity(1.0, "V", digits=0)


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("10 W at 30 fF, 40 dBµV/m, 5 %", "10\u00a0W at 30\u00a0fF, 40\u00a0dBµV/m, 5\u00a0%"),
        ("3 Hours, 4 more, lesson 3. A bead", "3 Hours, 4 more, lesson 3. A bead"),
    ],
)
def test_a_number_is_not_parted_from_its_unit(text: str, whole: str) -> None:
    assert unbroken(text) == whole
