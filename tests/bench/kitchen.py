"""A kitchen to be wrong in: the truth the forecast is measured against.

It shares no code and no closure with the product. A piece is a brick in three dimensions (a
quarter of it, the full thickness), its surface is wet, dries, and is solved without
linearisation; the oven is biased and cycles; size, coefficient, conductivity, start and the place
of the probe are other than said; the thermometer scatters. Many cooks are computed at once.
Everything is invented but for the physics.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SIGMA, KELVIN = 5.670374e-8, 273.15
LEVELS, ACROSS = 24, 6
MODES = {"bake": (8.0, 0.90), "convection": (25.0, 0.85), "air_fry": (45.0, 0.85)}
ROOM_AIR = (5.0, 0.90)
REST_WETNESS = 0.10
ROOM = 22.0


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of food and how it is cooked.

    `sizes_mm` are full; `heat` is (k, rho, cp); `stages` are (from second, °C, mode).
    """

    name: str
    sizes_mm: tuple[float, float, float]
    heat: tuple[float, float, float]
    stages: tuple[tuple[float, float, str], ...]
    target_c: float
    food: str
    shape: float


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


KINDS = (
    Kind("chop 1 in", (25.4, 100, 120), (0.484, 1056, 3575),
         ((0, celsius(325), "air_fry"),), celsius(145), "pork_whole", 0),
    Kind("chop 1.5 in, two stages", (38.1, 100, 120), (0.484, 1056, 3575),
         ((0, celsius(400), "convection"), (480, celsius(325), "air_fry")),
         celsius(145), "pork_whole", 0),
    Kind("chicken breast 1.25 in", (31.8, 90, 150), (0.498, 1053, 3630),
         ((0, celsius(400), "convection"),), celsius(165), "poultry_pieces", 0),
    Kind("salmon 1 in", (25.4, 70, 130), (0.450, 1039, 3499),
         ((0, celsius(375), "bake"),), celsius(145), "fish", 0),
    Kind("pork roast 3 in", (76.2, 90, 180), (0.484, 1056, 3575),
         ((0, celsius(325), "convection"),), celsius(145), "pork_whole", 1),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Draws:
    """What is true of each cook; every field has one value a cook."""

    thickness: Floats
    coefficient: Floats
    under: Floats
    k: Floats
    bias: Floats
    swing: Floats
    period: Floats
    lag: Floats
    door: Floats
    recovery: Floats
    wet0: Floats
    wet1: Floats
    dries: Floats
    vapour: Floats
    start: Floats
    depth: Floats
    aside: Floats
    probe_bias: Floats


def drawn(n: int, rng: np.random.Generator) -> Draws:
    """n cooks."""
    normal, flat = rng.standard_normal, rng.uniform
    return Draws(
        thickness=flat(0.85, 1.15, n),
        coefficient=np.exp(0.375 * normal(n)),
        under=flat(0.5, 1.1, n), k=np.exp(0.06 * normal(n)),
        bias=6 * normal(n), swing=flat(2, 8, n), period=flat(180, 420, n),
        lag=flat(90, 240, n), door=flat(0.25, 0.45, n), recovery=flat(45, 120, n),
        wet0=np.exp(np.log(0.5) + 0.3 * normal(n)), wet1=np.exp(np.log(0.06) + 0.4 * normal(n)),
        dries=np.exp(np.log(0.15) + 0.4 * normal(n)), vapour=flat(1500, 6000, n),
        start=4 + 1.5 * normal(n), depth=0.15 * normal(n), aside=0.15 * np.abs(normal(n)),
        probe_bias=0.4 * normal(n),
    )  # fmt: skip


def middle(n: int = 1) -> Draws:
    """The cook in the middle of everything, for a plan's tested time."""
    one = np.ones(n)
    return Draws(
        thickness=one, coefficient=one, under=0.8 * one, k=one,
        bias=0 * one, swing=0 * one, period=300 * one, lag=150 * one, door=0.35 * one,
        recovery=75 * one, wet0=0.5 * one, wet1=0.06 * one, dries=0.15 * one,
        vapour=3500 * one, start=4 * one, depth=0 * one, aside=0 * one, probe_bias=0 * one,
    )  # fmt: skip


class Cooks:
    """Many cooks of one kind, side by side in time."""

    def __init__(self, kind: Kind, draws: Draws, step: float) -> None:
        self.kind, self.draws, self.step, self.now = kind, draws, step, 0.0
        n = len(draws.k)
        self.n = n
        a, b, c = kind.sizes_mm
        k, self.rho, self.cp = kind.heat
        self.k = k * draws.k
        self.thick = a / 1000 * draws.thickness
        self.dz = self.thick / LEVELS
        self.dx = np.full(n, b / 2000 / ACROSS)
        self.dy = np.full(n, c / 2000 / ACROSS)
        self.t = np.tile(draws.start[:, None, None, None], (1, LEVELS, ACROSS, ACROSS))
        shapes = {
            "top": (n, ACROSS, ACROSS), "under": (n, ACROSS, ACROSS),
            "x": (n, LEVELS, ACROSS), "y": (n, LEVELS, ACROSS),
        }  # fmt: skip
        self.skin = {f: np.full(s, 0.0) + draws.start[:, None, None] for f, s in shapes.items()}
        self.lost = {f: np.zeros(s) for f, s in shapes.items()}
        self.air = np.full(n, kind.stages[0][1])
        self.dip = draws.door * (self.air - ROOM)
        self.coldest = self.t.min(axis=(1, 2, 3))
        self.out = np.zeros(n, bool)

    def open_door(self, who: NDArray[np.bool_]) -> None:
        self.dip = self.dip + who * self.draws.door * (self.air - self.dip - ROOM)

    def advance(self) -> None:
        """One step of everything."""
        d = self.draws
        setting, mode = next((s[1], s[2]) for s in self.kind.stages[::-1] if s[0] <= self.now)
        self.air = setting + (self.air - setting) * np.exp(-self.step / d.lag)
        self.dip = self.dip * np.exp(-self.step / d.recovery)
        wave = d.swing * np.sin(2 * np.pi * self.now / d.period)
        air = self.air + d.bias + wave - self.dip
        walls = self.air + d.bias + wave
        air, walls = (np.where(self.out, ROOM, x) for x in (air, walls))
        h, e = (np.where(self.out, x, y) for x, y in zip(ROOM_AIR, MODES[mode], strict=True))
        grip = np.where(self.out, 1.0, d.coefficient)
        flows = self._inner_flows()
        faces = (("top", self.t[:, -1], self.dz), ("under", self.t[:, 0], self.dz),
                 ("x", self.t[:, :, -1], self.dx), ("y", self.t[:, :, :, -1], self.dy))  # fmt: skip
        for face, inside, width in faces:
            share = grip * (d.under if face == "under" else 1.0)
            flux = self._surface(face, inside, width, (h * share, e * share, air, walls))
            grown = flux / width[:, None, None]
            if face == "top":
                flows[:, -1] += grown
            elif face == "under":
                flows[:, 0] += grown
            elif face == "x":
                flows[:, :, -1] += grown
            else:
                flows[:, :, :, -1] += grown
        self.t += self.step * flows / (self.rho * self.cp)
        self.now += self.step
        self.coldest = self.t.min(axis=(1, 2, 3))

    def _inner_flows(self) -> Floats:
        out = np.zeros_like(self.t)
        for axis, width in ((1, self.dz), (2, self.dx), (3, self.dy)):
            flow = np.diff(self.t, axis=axis) * (self.k / width**2)[:, None, None, None]
            low = [slice(None)] * 4
            high = [slice(None)] * 4
            low[axis], high[axis] = slice(None, -1), slice(1, None)
            out[tuple(low)] += flow
            out[tuple(high)] -= flow
        return out

    def _surface(
        self, face: str, inside: Floats, width: Floats, heat: tuple[Floats, Floats, Floats, Floats]
    ) -> Floats:
        """Flux into the piece through a face, W/m², with its skin temperature by Newton."""
        d = self.draws
        h, e, air, walls = (x[:, None, None] for x in heat)
        g = (2 * self.k / width)[:, None, None]
        wet = d.wet1[:, None, None] + (d.wet0 - d.wet1)[:, None, None] * np.exp(
            -self.lost[face] / d.dries[:, None, None]
        )
        # Off the heat the surface has dried to a tenth: with it the rise is that of practice.
        wet = np.where(self.out[:, None, None], REST_WETNESS, wet)
        skin, vapour = self.skin[face], d.vapour[:, None, None]
        for _ in range(2):
            hot = np.minimum(skin, 99.5)
            sat = 610.94 * np.exp(17.625 * hot / (hot + 243.04))
            sat = np.minimum(sat, 101000.0)
            latent = 2.501e6 - 2400 * hot
            factor = h * 0.85 ** (-2 / 3) * 0.622 / 1006.0
            mass = factor * np.log((101325.0 - vapour) / (101325.0 - sat))
            slope = factor / (101325.0 - sat) * sat * 17.625 * 243.04 / (hot + 243.04) ** 2
            dry = h * (air - skin) + e * SIGMA * ((walls + KELVIN) ** 4 - (skin + KELVIN) ** 4)
            net = dry - wet * mass * latent - g * (skin - inside)
            steep = h + 4 * e * SIGMA * (skin + KELVIN) ** 3 + wet * slope * latent + g
            skin = np.clip(skin + net / steep, -5, 250)
        self.skin[face] = skin
        self.lost[face] += np.maximum(wet * mass, 0.0) * self.step
        return g * (skin - inside)

    def at_probe(self, who: int) -> float:
        """The true temperature where the tip of one cook's probe is."""
        d = self.draws
        z = float(np.clip((0.5 + d.depth[who] / 2) * LEVELS - 0.5, 0, LEVELS - 1.001))
        x = float(np.clip(d.aside[who] * ACROSS - 0.5, 0, ACROSS - 1.001))
        i, j = int(z), int(x)
        block = self.t[who, i : i + 2, j : j + 2, 0]
        across = block[:, 0] + (block[:, 1] - block[:, 0]) * (x - j)
        return float(across[0] + (across[1] - across[0]) * (z - i))
