"""The group codes of a DXF text, for the reader: pairs of code and value in records, and errors that name the line."""

from __future__ import annotations

import math
from functools import lru_cache

from ..errors import InputError

__all__ = ["Groups", "Record", "without_known_sections"]

_CURE = "write the file again, or save it as text DXF"


class Groups:
    """The pairs of one file.

    Args:
        text: The whole file.
        where: Its name, for errors.

    Attributes:
        words: The group codes, as they stand.
        values: The values, as they stand.
        codes: The number of each word; a file uses few, so each is read once.
        starts: Where its records begin: each begins with group code 0.

    Raises:
        InputError: If it is no DXF file in text form, or is cut off.
    """

    def __init__(self, text: str, where: str) -> None:
        self.where = where
        if "\r" in text:
            text = text.replace("\r\n", "\n").replace("\r", "\n")
        lines = text.rstrip().split("\n")
        self.words, self.values = lines[0::2], lines[1::2]
        try:
            self.codes = {word: int(word) for word in set(self.words)}
        except ValueError:
            raise self._complaint(lines) from None
        if self._first_section() < 0:
            raise self.error(0, "this is no DXF file", "it must begin with a section")
        if len(self.values) != len(self.words):
            raise self.error(len(self.values), "the file is cut off here", "a value must follow its group code")
        self.starts = self._starts()
        if self.kind(self.starts[-1]) != "EOF":
            raise self.error(len(self.words) - 1, "the file is cut off here", "it must end with EOF")

    def kind(self, start: int) -> str:
        """What the record that begins at a place is."""
        return self.values[start].strip()

    def _starts(self) -> list[int]:
        found: list[int] = []
        for zero in [word for word, code in self.codes.items() if code == 0]:
            place = -1
            for _ in range(self.words.count(zero)):
                place = self.words.index(zero, place + 1)
                found.append(place)
        return sorted(found)

    def error(self, place: int, what: str, must: str, *, value: bool = False) -> InputError:
        """An error about the code, or the value, of the pair at a place."""
        return InputError(self.where, what, must, _CURE, line=2 * place + (2 if value else 1))

    def number(self, place: int) -> float:
        """The number at a place.

        Raises:
            InputError: If it is none.
        """
        try:
            number = float(self.values[place])
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            raise self.error(place, f"'{self.values[place].strip()[:40]}'", "it must be a number", value=True)
        return number

    def _first_section(self) -> int:
        """Where the first section begins, after nothing but comments; -1 if it does not."""
        for place, word in enumerate(self.words):
            code = self.codes[word]
            if code != 999:
                begins = code == 0 and self.values[place : place + 1] and self.kind(place) == "SECTION"
                return place if begins else -1
        return -1

    def _complaint(self, lines: list[str]) -> InputError:
        """Which line is no group code, or that the whole is no text DXF."""
        if "Binary DXF" in lines[0]:
            return self.error(0, "this is a binary DXF file", "it must be in text form")
        for place, code in enumerate(lines[0::2]):
            try:
                int(code)
            except ValueError:
                if place > 0:
                    return self.error(place, f"'{code.strip()[:40]}' is no group code", "it must be a whole number")
                break
        return self.error(0, "this is no DXF file", "it must begin with a section")


_SECTION, _TABLE, _ENDSEC, _EOF = (f"\n  0\n{word}" for word in ("SECTION\n", "TABLE\n", "ENDSEC", "EOF"))
_TABLES = "  2\nTABLES"
_UNREAD = tuple(
    f"  2\n{name}\n"
    for name in (
        "CLASSES", "BLOCKS", "OBJECTS", "LTYPE", "STYLE", "VIEW", "UCS", "APPID", "DIMSTYLE", "BLOCK_RECORD",
    )
)  # fmt: skip
"""Sections and tables of which nothing is read, and which are the same in every file of one writer."""

_MARKS = ("SECTION", "TABLE", "ENDTAB", "ENDSEC", "EOF")


def without_known_sections(text: str) -> str:
    """A DXF text without those sections and tables that hold nothing to be read and were found sound when first seen.

    They are two thirds of a file. A line ``SECTION`` or ``TABLE`` can only be a value, for a group code is a number; so
    they can be told apart before codes and values are.
    """
    return _shortened(text, _SECTION, _EOF, "", _EOF)


def _shortened(text: str, head: str, tail: str, before: str, after: str) -> str:
    """A text without its parts that are known.

    Args:
        text: The text.
        head: How each part but the first begins.
        tail: What stands behind the last part, and stays.
        before: What must stand before a part for it to be read by itself.
        after: What must stand behind it, likewise.
    """
    first, *parts = text.split(head)
    kept = [first]
    for number, part in enumerate(parts, 1):
        if part.startswith(_UNREAD):
            end = tail if number == len(parts) and part.rstrip().endswith(tail) else ""
            if _sound(f"{before}{head}{part.rstrip().removesuffix(tail) if end else part}{after}"):
                kept[-1] += end
                continue
        kept.append(
            _shortened(part, _TABLE, _ENDSEC, _SECTION + _TABLES, _ENDSEC + _EOF)
            if part.startswith(f"{_TABLES}\n")
            else part
        )
    return head.join(kept)


@lru_cache(maxsize=64)
def _sound(text: str) -> bool:
    """Whether a file of one section or table is made of whole pairs, and ends where it must."""
    try:
        groups = Groups(text.lstrip("\n"), "")
    except InputError:
        return False
    marks = [kind for kind in map(groups.kind, groups.starts) if kind in _MARKS]
    return marks in (["SECTION", "ENDSEC", "EOF"], list(_MARKS))


class Record:
    """One record of a file.

    Args:
        groups: The pairs of the file.
        start: Its first place.
        end: The place after its last.

    Attributes:
        kind: What it is (``LINE``).
        start: Its first place.
        codes: Its group codes.
        values: Its values, as they stand.
    """

    __slots__ = ("_first", "_groups", "codes", "kind", "start", "values")

    def __init__(self, groups: Groups, start: int, end: int) -> None:
        self._groups = groups
        self.start, self.kind = start, groups.kind(start)
        self.codes = list(map(groups.codes.__getitem__, groups.words[start:end]))
        self.values = groups.values[start:end]
        self._first: dict[int, str] | None = None

    def value(self, code: int) -> str | None:
        """The first value of a group code as it stands, or None."""
        if self._first is None:
            self._first = dict(zip(reversed(self.codes), reversed(self.values), strict=True))
        return self._first.get(code)

    def text(self, code: int, default: str = "") -> str:
        """The first value of a group code, spaces round it left out."""
        value = self.value(code)
        return default if value is None else value.strip()

    def number(self, code: int, default: float | None = None) -> float:
        """The first number of a group code.

        Raises:
            InputError: If there is none and no default, or it is no number.
        """
        value = self.value(code)
        if value is None:
            if default is None:
                raise self.error(f"{self.kind} without group code {code}", "it needs one")
            return default
        try:
            number = float(value)
        except ValueError:
            number = math.nan
        # A number that is not finite takes the slow way, which says where it stands.
        return number if math.isfinite(number) else self.number_at(self.codes.index(code))

    def whole(self, code: int, default: int) -> int:
        """The first whole number of a group code."""
        return default if self.value(code) is None else int(self.number(code))

    def numbers(self, code: int) -> list[float]:
        """Every number of a group code, in order.

        Raises:
            InputError: If one of them is no number.
        """
        try:
            numbers = [float(value) for other, value in zip(self.codes, self.values, strict=True) if other == code]
        except ValueError:
            numbers = [math.nan]
        if all(map(math.isfinite, numbers)):
            return numbers
        return [self.number_at(place) for place, other in enumerate(self.codes) if other == code]

    def number_at(self, place: int) -> float:
        """The number at a place of the record; see ``Groups.number``."""
        return self._groups.number(self.start + place)

    def text_at(self, place: int) -> str:
        """The value at a place of the record."""
        return self.values[place].strip()

    def error(self, what: str, must: str) -> InputError:
        """An error about the record."""
        return self._groups.error(self.start, what, must)
