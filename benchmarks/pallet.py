"""How long the best layer of a pallet takes, cold for its sizes: search and proof, by boxes to a layer."""

from __future__ import annotations

import random
import statistics
import time

from dieline.strength.pallet import Layer, _best_layer

__all__ = ["layer_times"]

DECKS = ((1200.0, 800.0), (1200.0, 1000.0), (1219.0, 1016.0), (1100.0, 1100.0), (1140.0, 1140.0))
GROUPS = ((4, 40), (40, 100), (100, 150))


def layer_times(rounds: int = 60) -> dict[str, dict[str, float]]:
    """Median, 95th of a hundred and slowest in ms, and the share proved, of boxes of random sizes to 0.1 mm."""
    return {f"{low} to {high} boxes": _group(low, high, rounds) for low, high in GROUPS}


def _group(low: int, high: int, rounds: int) -> dict[str, float]:
    rng = random.Random(low)
    times: list[float] = []
    layers: list[Layer] = []
    while len(layers) < rounds:
        deck = rng.choice(DECKS)
        box = rng.randint(800, 6000) / 10, rng.randint(500, 4000) / 10
        if not (low <= deck[0] * deck[1] / (box[0] * box[1]) <= high and box[1] <= box[0] <= min(4 * box[1], deck[1])):
            continue
        _best_layer.cache_clear()
        start = time.perf_counter()
        layers.append(_best_layer(box, deck, 0.0))
        times.append((time.perf_counter() - start) * 1000)
    times.sort()
    return {
        "median ms": statistics.median(times),
        "95th ms": times[int(0.95 * len(times))],
        "slowest ms": times[-1],
        "proved": sum(layer.proved for layer in layers) / len(layers),
    }


if __name__ == "__main__":
    for name, measured in layer_times().items():
        print(name, " ".join(f"{key} {value:.2f}" for key, value in measured.items()))
