"""A sphere in shells, warmed step by step: an independent and much finer way to the same times (enthalpy method, explicit)."""

import bisect
import math

from bonebench.science.thawing import Flesh

SHELLS = 12


class Table:
    """Heat in a kilogram of flesh by temperature, and back."""

    def __init__(self, flesh: Flesh) -> None:
        self.flesh = flesh
        self.degrees = [-60 + 0.05 * n for n in range(2100)]
        self.heat = []
        for t in self.degrees:
            above, below = max(t - flesh.freezing_point_c, 0.0), min(t - flesh.freezing_point_c, 0.0)
            sensible = flesh.thawed_j_kg_k * above + flesh.frozen_j_kg_k * below
            self.heat.append(sensible - flesh.latent_j_kg * flesh.ice_share(t))

    def temperature(self, heat: float) -> float:
        n = bisect.bisect_right(self.heat, heat) - 1
        return self.degrees[n] + 0.05 * (heat - self.heat[n]) / (self.heat[n + 1] - self.heat[n])

    def of(self, temperature: float) -> float:
        n = bisect.bisect_right(self.degrees, temperature) - 1
        return self.heat[n] + (temperature - self.degrees[n]) / 0.05 * (self.heat[n + 1] - self.heat[n])

    def conductivity(self, temperature: float) -> float:
        ice = min(1.0, self.flesh.ice_share(temperature))
        return ice * self.flesh.frozen_w_m_k + (1 - ice) * self.flesh.thawed_w_m_k


def core_time_s(
    flesh: Flesh, *, radius: float, film: float, air: float, start: float, until: float, density: float, skin: bool = False
) -> float:
    """Seconds until the innermost shell, or the skin, has come to a temperature."""
    table = Table(flesh)
    dr = radius / SHELLS
    area = [4 * math.pi * (n * dr) ** 2 for n in range(SHELLS + 1)]
    mass = [density * 4 / 3 * math.pi * dr**3 * ((n + 1) ** 3 - n**3) for n in range(SHELLS)]
    heat = [table.of(start)] * SHELLS
    step = dr * dr * density * flesh.frozen_j_kg_k / flesh.frozen_w_m_k / 8
    seconds, sign = 0.0, 1 if until > start else -1
    while True:
        degrees = [table.temperature(h) for h in heat]
        k = [table.conductivity(t) for t in degrees]
        flow = [0.0]
        for n in range(1, SHELLS):
            flow.append(area[n] * 2 * k[n] * k[n - 1] / (k[n] + k[n - 1]) * (degrees[n] - degrees[n - 1]) / dr)  # noqa: PERF401
        flow.append(area[SHELLS] / (1 / film + dr / 2 / k[-1]) * (air - degrees[-1]))
        watched = air - flow[SHELLS] / area[SHELLS] / film if skin else degrees[0]
        if sign * (watched - until) >= 0:
            return seconds
        heat = [h + (flow[n + 1] - flow[n]) * step / mass[n] for n, h in enumerate(heat)]
        seconds += step
