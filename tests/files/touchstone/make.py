"""Odd Touchstone files and what stands in them. Run as a module to write them beside this file.

Every file describes the same part: 10+40j, 120+150j and 400-80j ohm at 1, 10 and 100 MHz, but where its entry says
otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from attrs import frozen

FOLDER = Path(__file__).parent
F_HZ = (1e6, 1e7, 1e8)
Z_OHM = (10 + 40j, 120 + 150j, 400 - 80j)
HEAD = "# Hz S RI R 50\n"
V2 = "[Version] 2.0\n# Hz S RI R 50\n[Number of Ports] {ports}\n"
ORDER = "[Two-Port Data Order] 12_21\n"


@frozen(kw_only=True)
class Good:
    """A file that is read right."""

    name: str
    data: bytes
    connection: str = "one-port"
    z_ohm: tuple[complex, ...] = Z_OHM
    f_hz: tuple[float, ...] = F_HZ
    says: str = ""
    """A part of the warning that must come with it."""
    plain: bool = False
    """A reader of plain files must agree."""


@frozen(kw_only=True)
class Bad:
    """A file that is refused in one sentence."""

    name: str
    data: bytes
    connection: str = "one-port"
    says: tuple[str, ...]


def pair(value: complex, form: str = "ri") -> str:
    """Write one complex number in a form of the format."""
    size, angle = abs(value), np.degrees(np.angle(value))
    first, second = {
        "ri": (value.real, value.imag),
        "ma": (size, angle),
        "db": (20 * np.log10(size) if size else -999.0, angle),
    }[form]
    return f"{first:.14g} {second:.14g}"


def reflection(reference: float = 50.0) -> list[complex]:
    """S11 of the part."""
    return [(z - reference) / (z + reference) for z in Z_OHM]


def two_port(connection: str, first: float = 50.0, second: float = 50.0) -> list[list[complex]]:
    """S11, S21, S12, S22 of the part between the ports, or from the line to earth."""
    rows = []
    root = np.sqrt(first * second)
    for z in Z_OHM:
        if connection == "series-thru":
            below = z + first + second
            rows.append(
                [(z + second - first) / below, 2 * root / below, 2 * root / below, (z + first - second) / below]
            )
        else:
            below = first * second + z * (first + second)
            through = 2 * root * z / below
            rows.append(
                [through * np.sqrt(second / first) - 1, through, through, through * np.sqrt(first / second) - 1]
            )
    return rows


def lines(
    values: Sequence[complex] | Sequence[Sequence[complex]],
    form: str = "ri",
    unit: float = 1.0,
    *,
    f_hz: Sequence[float] = F_HZ,
) -> str:
    """Write data lines."""
    rows = [row if isinstance(row, list) else [row] for row in values]
    return "".join(
        f"{f / unit:.12g} " + " ".join(pair(value, form) for value in row) + "\n"  # type: ignore[arg-type]
        for f, row in zip(f_hz, rows, strict=True)
    )


S1 = lines(reflection())
SERIES = lines(two_port("series-thru"))
SHUNT = lines(two_port("shunt-thru"))


def _encodings() -> list[Good]:
    text = "! Messung µ, 50 Ω\n" + HEAD + S1
    latin = "! Messung µ\x85 mit Ä\n" + HEAD + S1
    return [
        Good(name="utf8.s1p", data=text.encode(), plain=True),
        Good(name="utf8-bom.s1p", data=text.encode("utf-8-sig"), plain=True),
        Good(name="utf16-bom.s1p", data=text.encode("utf-16")),
        Good(name="utf16-be-bom.s1p", data=b"\xfe\xff" + text.encode("utf-16-be")),
        Good(name="utf16-no-bom.s1p", data=(HEAD + S1).encode("utf-16-le")),
        Good(name="utf16-be-no-bom.s1p", data=(HEAD + S1).encode("utf-16-be")),
        Good(name="latin1.s1p", data=latin.encode("latin-1")),
        Good(name="crlf.s1p", data=text.replace("\n", "\r\n").encode(), plain=True),
        Good(name="cr.s1p", data=text.replace("\n", "\r").encode()),
        Good(name="mixed-line-ends.s1p", data=text.replace("\n", "\r\n", 2).encode()),
        Good(name="no-last-line-end.s1p", data=(HEAD + S1).rstrip("\n").encode(), plain=True),
        Good(name="dos-end-mark.s1p", data=(HEAD + S1 + "\x1a").encode()),
    ]


def _option_lines() -> list[Good]:
    z0 = reflection(75.0)
    return [
        Good(name="ma-ghz.s1p", data=("# GHz S MA R 50\n" + lines(reflection(), "ma", 1e9)).encode(), plain=True),
        Good(name="db-mhz.s1p", data=("# MHz S DB R 50\n" + lines(reflection(), "db", 1e6)).encode(), plain=True),
        Good(name="ri-khz.s1p", data=("# kHz S RI R 50\n" + lines(reflection(), "ri", 1e3)).encode(), plain=True),
        Good(name="defaults.s1p", data=("#\n" + lines(reflection(), "ma", 1e9)).encode(), plain=True),
        Good(name="any-order.s1p", data=("# RI S MHZ R 50\n" + lines(reflection(), "ri", 1e6)).encode()),
        Good(
            name="small-letters.s1p", data=("# mhz s ri r 50\n" + lines(reflection(), "ri", 1e6)).encode(), plain=True
        ),
        Good(name="tight-hash.s1p", data=("#HZ\tS\tRI\tR\t50\n" + S1).encode(), plain=True),
        Good(name="no-reference.s1p", data=("# Hz S RI\n" + S1).encode(), plain=True),
        Good(name="reference-75.s1p", data=("# Hz S RI R 75\n" + lines(z0)).encode(), plain=True),
        Good(name="reference-1e1.s1p", data=("# Hz S RI R 1e1\n" + lines(reflection(10))).encode(), plain=True),
        Good(name="option-comment.s1p", data=("# Hz S RI R 50 ! as set\n" + S1).encode(), plain=True),
        Good(name="two-option-lines.s1p", data=(HEAD + "# GHz S MA R 75\n" + S1).encode(), says="only the first"),
        Good(name="indented.s1p", data=("   # Hz S RI R 50\n" + S1.replace("\n", "\n   ")).encode(), plain=True),
    ]


def _layouts() -> list[Good]:
    commented = "! a\n\n" + HEAD + "! b\n" + S1.replace("\n", " ! note 1 2 3\n! between\n\n")
    wrapped = S1.replace(" ", "\n")
    backwards = "".join(reversed(S1.splitlines(keepends=True)))
    twice = S1 + S1.splitlines(keepends=True)[1]
    zero_hz = "0 " + pair((1.5 - 50) / (1.5 + 50)) + "\n"
    gap = S1.replace("\n", "\n2e6 nan 0\n", 1)
    told = HEAD + S1.replace("\n", "\n! Port Impedance 75 0\n", 1)
    return [
        Good(name="comments-anywhere.s1p", data=commented.encode(), plain=True),
        Good(name="wrapped.s1p", data=(HEAD + wrapped).encode()),
        Good(name="tabs.s1p", data=(HEAD + S1.replace(" ", "\t\t")).encode(), plain=True),
        Good(name="plus-signs.s1p", data=(HEAD + S1.replace(" 0.", " +0.").replace("1000000 ", "+1.0E+06 ")).encode()),
        Good(name="descending.s1p", data=(HEAD + backwards).encode(), says="ascending"),
        Good(name="twice.s1p", data=(HEAD + twice).encode(), says="stands twice"),
        Good(name="dc-point.s1p", data=(HEAD + zero_hz + S1).encode(), says="0 Hz is kept"),
        Good(name="not-a-number.s1p", data=(HEAD + gap).encode(), says="set aside"),
        Good(name="port-impedance-comment.s1p", data=told.encode(), says="port impedance"),
        Good(name="no-suffix-one-port.txt", data=(HEAD + S1).encode()),
        Good(name="no-suffix-two-port.dat", data=(HEAD + SERIES).encode(), connection="series-thru"),
        Good(name="UPPER.S1P", data=(HEAD + S1).encode(), plain=True),
    ]


def _other_parameters() -> list[Good]:
    z, y = [value / 50 for value in Z_OHM], [50 / value for value in Z_OHM]
    y_series = [[1 / value, -1 / value, -1 / value, 1 / value] for value in Z_OHM]
    y_series_normal = [[50 * entry for entry in row] for row in y_series]
    z_shunt = [[value / 50] * 4 for value in Z_OHM]
    # series part: V1 = Z·I1 + V2, I2 = -I1; shunt part: I1 = V1/Z - I2, V2 = V1
    h_series = [[value / 50, -1, 1, 0j] for value in Z_OHM]
    g_shunt = [[50 / value, 1, -1, 0j] for value in Z_OHM]
    ratios = "ratios to the reference"
    return [
        Good(name="z-v1.s1p", data=("# Hz Z RI R 50\n" + lines(z)).encode(), says=ratios),
        Good(name="y-v1.s1p", data=("# Hz Y RI R 50\n" + lines(y)).encode(), says=ratios),
        Good(name="y-v1-ma.y1p", data=("# Hz Y MA R 50\n" + lines(y, "ma")).encode(), says=ratios),
        Good(name="z-v1-75.z1p", data=("# Hz Z RI R 75\n" + lines([v / 75 for v in Z_OHM])).encode(), says=ratios),
        Good(
            name="y-v1-series.s2p",
            data=("# Hz Y RI R 50\n" + lines(y_series_normal)).encode(),
            connection="series-thru",
            says=ratios,
        ),
        Good(
            name="z-v1-shunt.s2p",
            data=("# Hz Z RI R 50\n" + lines(z_shunt)).encode(),
            connection="shunt-thru",
            says=ratios,
        ),
        Good(
            name="h-v1-series.s2p",
            data=("# Hz H RI R 50\n" + lines(h_series)).encode(),
            connection="series-thru",
            says=ratios,
        ),
        Good(
            name="g-v1-shunt.s2p",
            data=("# Hz G RI R 50\n" + lines(g_shunt)).encode(),
            connection="shunt-thru",
            says=ratios,
        ),
    ]


def _two_ports() -> list[Good]:
    noise = "! noise\n1e6 1.2 0.3 20 0.2\n1e7 1.3 0.4 30 0.2\n"
    uneven_series = lines(two_port("series-thru", 50, 75))
    uneven_shunt = lines(two_port("shunt-thru", 50, 75))
    swapped = [[row[0], row[2], row[1], row[3]] for row in two_port("series-thru")]
    wrapped = "".join(
        f"{f:.12g} {pair(row[0])} {pair(row[1])}\n   {pair(row[2])} {pair(row[3])}\n"
        for f, row in zip(F_HZ, two_port("series-thru"), strict=True)
    )
    alone = [[s, 0j, 0j, 0j] for s in reflection()]
    half = [[row[0], row[1], 0j, 0j] for row in two_port("series-thru")]
    series, shunt = "series-thru", "shunt-thru"
    return [
        Good(name="series.s2p", data=(HEAD + SERIES).encode(), connection=series),
        Good(name="shunt.s2p", data=(HEAD + SHUNT).encode(), connection=shunt),
        Good(name="noise.s2p", data=(HEAD + SERIES + noise).encode(), connection=series, says="noise data"),
        Good(name="wrapped.s2p", data=(HEAD + wrapped).encode(), connection=series),
        Good(name="uneven-series.s2p", data=("# Hz S RI R 50 75\n" + uneven_series).encode(), connection=series),
        Good(name="uneven-shunt.s2p", data=("# Hz S RI R 50 75\n" + uneven_shunt).encode(), connection=shunt),
        Good(name="one-way.s2p", data=(HEAD + lines(half)).encode(), connection=series),
        Good(name="port-one-alone.s2p", data=(HEAD + lines(alone)).encode(), says="port 1 is read by itself"),
        Good(
            name="taken-for-series.s2p",
            data=(HEAD + SHUNT).encode(),
            connection=series,
            says="but with shunt-thru",
            z_ohm=tuple(2500 / z for z in Z_OHM),
        ),
        Good(
            name="taken-for-shunt.s2p",
            data=(HEAD + SERIES).encode(),
            connection=shunt,
            says="but with series-thru",
            z_ohm=tuple(2500 / z for z in Z_OHM),
        ),
        Good(
            name="v2-series.ts",
            data=(V2.format(ports=2) + "[Two-Port Data Order] 21_12\n[Network Data]\n" + SERIES + "[End]\n").encode(),
            connection=series,
        ),
        Good(
            name="v2-order-12.s2p",
            data=(V2.format(ports=2) + ORDER + "[Network Data]\n" + lines(swapped) + "[End]\n").encode(),
            connection=series,
        ),
    ]


def _version_two() -> list[Good]:
    y = [1 / value for value in Z_OHM]
    lower = [[row[0], row[1], row[3]] for row in two_port("series-thru", 50, 75)]
    about = "[Begin Information]\n[Manufacturer] none\nany 1 2 3\n[End Information]\n".replace(
        "[Manufacturer]", "Maker"
    )
    reference = "[Reference] 50\n75\n"
    noise = "[Number of Noise Frequencies] 1\n[Network Data]\n" + SERIES + "[Noise Data]\n1e6 1 0 0 10\n[End]\n"
    return [
        Good(name="v2.s1p", data=(V2.format(ports=1) + "[Network Data]\n" + S1 + "[End]\n").encode(), plain=True),
        Good(name="v2-1.ts", data=(V2.format(ports=1) + "[Network Data]\n" + S1).replace("2.0", "2.1").encode()),
        Good(
            name="v2-z.ts",
            data=(V2.format(ports=1) + "[Network Data]\n" + lines(Z_OHM)).replace("Hz S", "Hz Z").encode(),
        ),
        Good(
            name="v2-y-db.ts",
            data=(V2.format(ports=1) + "[Network Data]\n" + lines(y, "db")).replace("Hz S RI", "Hz Y DB").encode(),
        ),
        Good(
            name="v2-reference.ts",
            data=(V2.format(ports=1) + "[Reference] 75\n[Network Data]\n" + lines(reflection(75.0))).encode(),
        ),
        Good(
            name="v2-lower-uneven.ts",
            data=(
                V2.format(ports=2) + ORDER + reference + "[Matrix Format] Lower\n[Network Data]\n" + lines(lower)
            ).encode(),
            connection="series-thru",
        ),
        Good(
            name="v2-upper-uneven.ts",
            data=(
                V2.format(ports=2) + ORDER + reference + "[Matrix Format] upper\n[Network Data]\n" + lines(lower)
            ).encode(),
            connection="series-thru",
        ),
        Good(
            name="v2-information.ts",
            data=(V2.format(ports=1) + "[Number of Frequencies] 3\n" + about + "[Network Data]\n" + S1).encode(),
        ),
        Good(
            name="v2-noise.ts",
            data=(V2.format(ports=2) + "[two-port data order] 21_12\n" + noise).encode(),
            connection="series-thru",
            says="noise data",
        ),
    ]


def good_files() -> list[Good]:
    """All files that must be read right."""
    return [*_encodings(), *_option_lines(), *_layouts(), *_other_parameters(), *_two_ports(), *_version_two()]


def bad_files() -> list[Bad]:
    """All files that must be refused, each with words of its sentence."""
    v2 = V2.format(ports=1) + "[Network Data]\n"
    series = "series-thru"

    def bad(name: str, text: str, *says: str, connection: str = "one-port") -> Bad:
        return Bad(name=name, data=text.encode(), says=says, connection=connection)

    return [
        bad("empty.s1p", "", "empty file"),
        bad("blank.s1p", "\n \n", "empty file"),
        Bad(name="binary.s1p", data=bytes(range(256)) * 4, says=("not text",)),
        Bad(name="half-utf16.s1p", data=HEAD.encode("utf-16") + b"\x00", says=("UTF-16",)),
        bad("no-option-line.s1p", S1, "line 1", "before any option line"),
        bad("only-comments.s1p", "! nothing here\n", "no option line"),
        bad("prose.s1p", "Frequency, S11\n" + S1, "line 1", "option line"),
        bad("no-data.s1p", HEAD, "no data"),
        bad("bad-unit.s1p", "# THz S RI R 50\n" + S1, "line 1", '"thz"'),
        bad("bad-parameter.s1p", "# Hz T RI R 50\n" + S1, "line 1", '"t"'),
        bad("bad-form.s1p", "# Hz S XY R 50\n" + S1, "line 1", '"xy"'),
        bad("two-units.s1p", "# Hz MHz S RI R 50\n" + S1, "line 1", '"hz" and "mhz"'),
        bad("glued-reference.s1p", "# Hz S RI R50\n" + S1, "line 1", '"r50"'),
        bad("complex-reference.s1p", "# Hz S RI R 50+5j\n" + S1, "line 1", "real resistance"),
        bad("zero-reference.s1p", "# Hz S RI R 0\n" + S1, "line 1", "above 0"),
        bad("no-reference-number.s1p", "# Hz S RI R\n" + S1, "line 1", "nothing"),
        bad("three-references.s2p", "# Hz S RI R 50 50 50\n" + SERIES, "3 references", connection=series),
        bad("decimal-comma.s1p", HEAD + "1e6 0,5 0,1\n", "line 2", '"0,5"'),
        bad("commas.s1p", HEAD + "1e6, 0.5, 0.1\n", "line 2", '"1e6,"'),
        bad("word-in-data.s1p", HEAD + S1 + "2e8 overload 0\n", "line 5", '"overload"'),
        bad("underscore.s1p", HEAD + "1_000_000 0.5 0.1\n", "line 2", '"1_000_000"'),
        bad("other-digits.s1p", HEAD + "١ 0.5 0.1\n", "line 2", "numbers such as"),
        bad("short-line.s1p", HEAD + S1 + "2e8 0.1\n", "line 5", "2 numbers at the end"),
        bad("long-line.s1p", HEAD + "1e6 0.5 0.1 7\n" + S1, "line 2", "4 numbers for one frequency"),
        bad("two-port-named-one.s1p", HEAD + SERIES, "line 2", "9 numbers"),
        bad("one-port-named-two.s2p", HEAD + lines(reflection()[:2], f_hz=F_HZ[:2]), "6 numbers", connection=series),
        bad("three-ports.s3p", HEAD + "1e6 " + "0.1 " * 18 + "\n", "3 ports"),
        bad("unknown-ports.txt", HEAD + "1e6 0.1 0.1 0.1 0.1\n", "no number of ports"),
        bad("negative-frequency.s1p", HEAD + "-1e6 0.5 0.1\n" + S1, "−1 MHz"),
        bad("open-everywhere.s1p", HEAD + "1e6 1 0\n2e6 1 0\n", "no usable point"),
        bad("one-port-as-series.s1p", HEAD + S1, "one port", connection=series),
        bad("series-as-one-port.s2p", HEAD + SERIES, "pass a signal"),
        bad("h-of-one-port.s1p", "# Hz H RI R 50\n" + S1, "H-parameters of one port"),
        bad("v3.s1p", v2.replace("2.0", "3.0") + S1, "line 1", '"3.0"'),
        bad("v2-no-ports.ts", v2.replace("[Number of Ports] 1\n", "") + S1, "[number of ports]"),
        bad("v2-ports-word.ts", v2.replace("Ports] 1", "Ports] one") + S1, "line 3", '"one"'),
        bad("v2-no-network-data.ts", V2.format(ports=1) + "[End]\n", "[network data]"),
        bad("v2-early-data.ts", V2.format(ports=1) + S1, "line 4", "before [Network Data]"),
        bad("v2-no-order.ts", V2.format(ports=2) + "[Network Data]\n" + SERIES, "Order", connection=series),
        bad(
            "v2-bad-order.ts",
            V2.format(ports=2) + "[Two-Port Data Order] 11_22\n[Network Data]\n" + SERIES,
            "line 4",
            connection=series,
        ),
        bad("v2-bad-matrix.ts", V2.format(ports=1) + "[Matrix Format] Half\n[Network Data]\n" + S1, "line 4", '"half"'),
        bad("v2-mixed-mode.ts", V2.format(ports=2) + ORDER + "[Mixed-Mode Order] D1,2 C1,2\n", "mixed-mode"),
        bad("v2-frequencies.ts", V2.format(ports=1) + "[Number of Frequencies] 4\n[Network Data]\n" + S1, "3 freq"),
        bad("v2-unknown-keyword.ts", V2.format(ports=1) + "[Colour] red\n", "line 4", "[Colour] red"),
        bad("v2-open-bracket.ts", V2.format(ports=1) + "[Network Data\n" + S1, "line 4", "[Network Data"),
    ]


def main() -> None:
    """Write all files."""
    entries: list[Good | Bad] = [*good_files(), *bad_files()]
    for entry in entries:
        (FOLDER / entry.name).write_bytes(entry.data)


if __name__ == "__main__":
    main()
