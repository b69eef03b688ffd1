"""Two files hold the same strokes if every corner and every arc of them does."""

from __future__ import annotations

from dieline.export.same import same_strokes

ONE = [
    ("cut", ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0)), (0.0, 0.5, 0.0), True),
    ("crease", ((0.0, 9.0), (9.0, 9.0)), (), False),
]


def _changed(**more: object) -> list[tuple[object, object, object, object]]:
    first = dict(zip(("key", "points", "bulges", "closed"), ONE[0], strict=True)) | more
    return [tuple(first.values()), ONE[1]]  # type: ignore[list-item]  # four values, in order


def test_rounding_is_the_same_and_a_hundredth_is_not() -> None:
    assert same_strokes(ONE, ONE)
    near = ((0.0, 0.00004), (100.0, 0.0), (100.00004, 50.0))
    assert same_strokes(ONE, _changed(points=near))  # type: ignore[arg-type]
    far = ((0.0, 0.01), (100.0, 0.0), (100.0, 50.0))
    assert not same_strokes(ONE, _changed(points=far))  # type: ignore[arg-type]


def test_an_arc_that_bends_otherwise_is_another() -> None:
    assert same_strokes(ONE, _changed(bulges=(0.0, 0.500001, 0.0)))  # type: ignore[arg-type]
    assert not same_strokes(ONE, _changed(bulges=(0.0, 0.5004, 0.0)))  # type: ignore[arg-type]
    assert not same_strokes(ONE, _changed(bulges=()))  # type: ignore[arg-type]
    flat = [("cut", ((0.0, 0.0), (1.0, 0.0)), (), False)]
    assert same_strokes(flat, [("cut", ((0.0, 0.0), (1.0, 0.0)), (0.0,), False)])


def test_meaning_order_number_and_closing_count() -> None:
    assert not same_strokes(ONE, ONE[::-1])
    assert not same_strokes(ONE, ONE[:1])
    assert not same_strokes(ONE, _changed(key="crease"))  # type: ignore[arg-type]
    assert not same_strokes(ONE, _changed(closed=False))  # type: ignore[arg-type]
    assert not same_strokes(ONE, _changed(points=((0.0, 0.0), (1.0, 1.0))))  # type: ignore[arg-type]
