"""How the margin falls with time and humidity, as SVG."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..units import format_mm
from .answer import Answer
from .basis import table
from .factors import humidity_factor, product, time_factor

__all__ = ["margin_svg"]

WIDTH, HEIGHT = 180.0, 112.0
LEFT, RIGHT, TOP, BOTTOM = 17.0, 30.0, 17.0, 16.0
"""mm. Room for the scales, the names of the curves, the title and the words below."""

INK, PALE, BAND = "#3b2a1a", "#cfc3b4", "#ead9bf"
LIMIT = "#a8321e"
CURVES = ("#8a5a2b", "#5d7a52", "#3f7286", "#4f5d8f", "#7a4b7d", "#8c4a4a")
"""sRGB, dark enough to read on white; the curves are named at their ends, so nobody has to tell them by colour."""

TEXT = 3.0
STEPS = 90

Point = tuple[float, float]


class _Scale:
    """Where days and margins lie on the sheet, mm."""

    def __init__(self, last: float, most: float) -> None:
        self.last, self.most = last, most

    def x(self, days: float) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * days / self.last

    def y(self, margin: float) -> float:
        return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * margin / self.most


def margin_svg(answer: Answer, *, title: str = "") -> str:
    """The margin over the days of standing, one curve for each humidity of the factor set.

    The shaded band is the middle 90 % at the job's humidity, the dot the job, the red line what just holds.

    Args:
        answer: An answer that counts with loss factors.
        title: Name of the box.

    Returns:
        An SVG document in mm; empty where the answer counts with a schedule, which knows no time or humidity.
    """
    import svgwrite  # only where a picture is asked for

    load = answer.load
    if load.factors is None or load.humidity is None or load.days is None or not answer.required.value:
        return ""
    rules = table("factors")[load.factors]
    humidities = [float(point[0]) for point in rules["humidity"]]
    last = float(rules["time"][-1][0])
    start = _margin(answer, 0.0, humidities[0])
    scale = _Scale(last, _top(max(start, answer.margin_range[1], 1.0)))
    drawing = svgwrite.Drawing(size=(f"{WIDTH:g}mm", f"{HEIGHT:g}mm"), viewBox=f"0 0 {WIDTH:g} {HEIGHT:g}", debug=False)
    drawing.set_desc(title=f"Margin over time and humidity {title}".strip())
    drawing.add(drawing.rect((0, 0), (WIDTH, HEIGHT), fill="white"))
    words = drawing.g(font_family="Helvetica, Arial, sans-serif", font_size=TEXT, fill=INK)
    _band(drawing, answer, scale)
    _grid(drawing, words, scale, rules)
    _curves(drawing, words, answer, scale, humidities)
    _job(drawing, words, answer, scale)
    _titles(drawing, words, answer, rules["title"], title)
    drawing.add(words)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{drawing.tostring()}\n'


def _margin(answer: Answer, days: float, humidity: float) -> float:
    """The margin of the answer at another time and humidity."""
    name = answer.load.factors or ""
    others = [factor for factor in answer.factors if factor.name not in ("time", "humidity")]
    left = time_factor(name, days)[0] * humidity_factor(name, humidity)[0] * product(others)
    return answer.box * left / answer.required.value


def _top(most: float) -> float:
    """A round end of the margin scale."""
    for step in (1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0):
        if most <= step:
            return step
    return most


def _days(last: float) -> list[float]:
    return [last * i / STEPS for i in range(STEPS + 1)]


def _band(drawing: Any, answer: Answer, scale: _Scale) -> None:
    humidity = answer.load.humidity or 0.0
    middle = [(days, _margin(answer, days, humidity)) for days in _days(scale.last)]
    low = [(scale.x(days), scale.y(answer.band.ends(value)[0])) for days, value in middle]
    high = [(scale.x(days), scale.y(min(answer.band.ends(value)[1], scale.most))) for days, value in middle]
    drawing.add(drawing.polygon(_round([*low, *reversed(high)]), fill=BAND))


def _grid(drawing: Any, words: Any, scale: _Scale, rules: dict[str, Any]) -> None:
    right, base = WIDTH - RIGHT, HEIGHT - BOTTOM
    step = 0.25 if scale.most <= 2 else 0.5 if scale.most <= 4 else 1.0
    for number in range(int(scale.most / step + 1e-9) + 1):
        margin = number * step
        y = scale.y(margin)
        drawing.add(drawing.line(*_round([(LEFT, y), (right, y)]), stroke=PALE, stroke_width=0.15))
        _say(drawing, words, (LEFT - 1.5, y + 1.0), format_mm(margin), anchor="end")
    for days in [0, *(point[0] for point in rules["time"])]:
        x = scale.x(days)
        drawing.add(drawing.line(*_round([(x, base), (x, base + 1.2)]), stroke=INK, stroke_width=0.25))
        _say(drawing, words, (x, base + 4.6), format_mm(days), anchor="middle")
    _say(drawing, words, ((LEFT + right) / 2, base + 9.0), "days of standing", anchor="middle")
    edge = [(LEFT, TOP), (LEFT, base), (right, base)]
    drawing.add(drawing.polyline(_round(edge), fill="none", stroke=INK, stroke_width=0.3))
    one = scale.y(1.0)
    drawing.add(drawing.line(*_round([(LEFT, one), (right, one)]), stroke=LIMIT, stroke_width=0.5))


def _curves(drawing: Any, words: Any, answer: Answer, scale: _Scale, humidities: Sequence[float]) -> None:
    ends = []
    for humidity, colour in zip(humidities, CURVES, strict=False):
        points = [(scale.x(days), scale.y(_margin(answer, days, humidity))) for days in _days(scale.last)]
        own = humidity == answer.load.humidity
        pen = 0.9 if own else 0.45
        drawing.add(drawing.polyline(_round(points), fill="none", stroke=colour, stroke_width=pen))
        ends.append((points[-1][1], f"{format_mm(humidity)} % RH" + (" (job)" if own else ""), colour))
    if answer.load.humidity not in humidities:
        humidity = answer.load.humidity or 0.0
        points = [(scale.x(days), scale.y(_margin(answer, days, humidity))) for days in _days(scale.last)]
        drawing.add(drawing.polyline(_round(points), fill="none", stroke=INK, stroke_width=0.9))
        ends.append((points[-1][1], f"{format_mm(humidity)} % RH (job)", INK))
    ends.append((scale.y(1.0), "1: just holds", LIMIT))
    for y, text, colour in _apart(ends):
        _say(drawing, words, (WIDTH - RIGHT + 1.5, y + 1.0), text, colour=colour)


def _apart(ends: Sequence[tuple[float, str, str]]) -> list[tuple[float, str, str]]:
    """The names at the ends of the curves, moved down or up just as far as it takes to read all of them."""
    least = TEXT * 1.2
    placed: list[tuple[float, str, str]] = []
    for y, text, colour in sorted(ends):
        placed.append((max(y, placed[-1][0] + least) if placed else y, text, colour))
    lowest = HEIGHT - BOTTOM
    for number in range(len(placed) - 1, -1, -1):
        y, text, colour = placed[number]
        placed[number] = (min(y, lowest), text, colour)
        lowest = placed[number][0] - least
    return placed


def _job(drawing: Any, words: Any, answer: Answer, scale: _Scale) -> None:
    days, margin = answer.load.days or 0.0, answer.margin
    x, y = scale.x(days), scale.y(margin)
    low, high = answer.margin_range
    bar = [(x, scale.y(low)), (x, scale.y(min(high, scale.most)))]
    drawing.add(drawing.line(*_round(bar), stroke=INK, stroke_width=0.5))
    drawing.add(drawing.circle(_round([(x, y)])[0], 1.3, fill=INK))
    text = f"this job: {margin:.2f} ({low:.2f} to {high:.2f})"
    late = x > WIDTH / 2
    at = (x - 2.5 if late else x + 2.5, max(TOP + TEXT, scale.y(min(high, scale.most)) - 1.2))
    _say(drawing, words, at, text, anchor="end" if late else "start", bold=True)


def _titles(drawing: Any, words: Any, answer: Answer, factor_set: str, title: str) -> None:
    head = f"{title}: margin over time and humidity" if title else "Margin over time and humidity"
    _say(drawing, words, (LEFT - 10, 6.5), head, size=4.0, bold=True)
    line = f"board {answer.board.name}, {answer.standing.layers} layers; {answer.load.pattern}; factors: {factor_set}"
    _say(drawing, words, (LEFT - 10, 11.5), line)
    foot = "margin = available over required compression; shaded: nine of ten times. Estimate, not a test."
    if answer.outside:
        foot += " This box lies outside what the formula was made from."
    _say(drawing, words, (LEFT - 10, HEIGHT - 2.5), foot, size=2.6)


def _say(
    drawing: Any,
    words: Any,
    at: Point,
    text: str,
    *,
    anchor: str = "start",
    size: float = TEXT,
    colour: str = INK,
    bold: bool = False,
) -> None:
    more: dict[str, Any] = {"font_weight": "bold"} if bold else {}
    if size != TEXT:
        more["font_size"] = size
    if bold:
        more |= {"stroke": "white", "stroke_width": 0.9, "stroke_linejoin": "round", "paint_order": "stroke"}
    plain = "".join(letter for letter in text if letter.isprintable())
    words.add(drawing.text(plain, insert=_round([at])[0], text_anchor=anchor, fill=colour, **more))


def _round(points: Sequence[Point]) -> list[Point]:
    return [(round(x, 3), round(y, 3)) for x, y in points]
