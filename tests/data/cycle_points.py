"""Operating points of vapour-compression cycles between the nodes of the cycle maps.

Independent of the maps' own files: only a general fluid-property library (CoolProp, from PyPI) and the equations below.
Writes cycle_points.csv beside itself:  python cycle_points.py

The cycle at one discharge pressure, per kilogram of refrigerant:
    evaporating temperature = room air - 7 K, superheat 5 K, compressor with an isentropic efficiency and a motor efficiency,
    10 % of the compressor's input leaves through its shell, fan 2.5 % of the evaporator's duty,
    gas cooler or condenser in counterflow to water of constant specific heat, never nearer to it than 4 K,
    subcooling of R134a and R290 at most 5 K.
The discharge pressure is the one with the highest COP.
"""

import math
import os
import random

import CoolProp
from CoolProp.CoolProp import AbstractState

ZERO_C = 273.15
COIL_DK, SUPERHEAT_DK, PINCH_DK = 7.0, 5.0, 4.0
SHELL_LOSS, FAN = 0.10, 0.025
# A machine that hardly lifts heat has a COP that runs away: points whose water is, in its log mean, nearer to the room's air are left out.
LEAST_LIFT_DK = 10.0

FLUIDS = {
    # name: CoolProp's name, isentropic efficiency over pressure ratio, motor, polytropic exponent, highest bar, subcooling cap K
    "R744": ("CarbonDioxide", lambda r: 1.003 - 0.121 * r, 0.90, 1.3, 130.0, None),
    "R134a": ("R134a", lambda r: 0.874 - 0.0135 * r, 0.80, 1.1, 25.0, 5.0),
    "R290": ("Propane", lambda r: 0.874 - 0.0135 * r, 0.80, 1.1, 31.0, 5.0),
}


class Cycle:
    """One refrigerant at one room air temperature."""

    def __init__(self, name, room_degc):
        fluid, self.eta_is, self.eta_motor, self.exponent, self.most_bar, self.subcooling = FLUIDS[name]
        self.state = AbstractState("HEOS", fluid)
        self.critical_pa = self.state.p_critical()
        evaporating_k = room_degc + ZERO_C - COIL_DK
        self.state.update(CoolProp.QT_INPUTS, 1.0, evaporating_k)
        self.p1 = self.state.p()
        self.state.update(CoolProp.PT_INPUTS, self.p1, evaporating_k + SUPERHEAT_DK)
        self.h1, self.s1, self.rho1 = self.state.hmass(), self.state.smass(), self.state.rhomass()

    def profile(self, p, t2):
        """Enthalpy (J/kg) and temperature (K) of the refrigerant from the discharge down, dense enough to find the pinch."""
        state, points = self.state, []
        lowest = ZERO_C + 8.0

        def single_phase(upper, lower, step):
            count = max(int(math.ceil((upper - lower) / step)), 1)
            for i in range(count + 1):
                t = upper + (lower - upper) * i / count
                state.update(CoolProp.PT_INPUTS, p, t)
                points.append((state.hmass(), t))

        if p >= self.critical_pa:
            single_phase(t2, lowest, 0.4)
            return points
        state.update(CoolProp.PQ_INPUTS, p, 1.0)
        h_dew, t_sat = state.hmass(), state.T()
        state.update(CoolProp.PQ_INPUTS, p, 0.0)
        h_bubble = state.hmass()
        if t2 > t_sat + 0.02:
            single_phase(t2, t_sat + 0.01, 0.4)
        points.append((h_dew, t_sat))
        points.append((h_bubble, t_sat))
        coldest = lowest if self.subcooling is None else max(t_sat - self.subcooling, lowest)
        if coldest < t_sat - 0.02:
            single_phase(t_sat - 0.01, coldest, 0.4)
        return points

    def heat(self, points, h2, t_in, t_out):
        """Largest heat, J/kg, that keeps the pinch everywhere; None if the discharge is too cold.

        After the refrigerant has given x, the water is at t_out - x/q (t_out - t_in): that allows q <= x (t_out - t_in)/need with
        need = t_out + pinch - t. The heat is the largest x that all points up to it allow.
        """
        glide, allowed, heat, last = t_out - t_in, math.inf, 0.0, None
        for h, t in points:
            x, need = h2 - h, t_out + PINCH_DK - t
            if x <= 1.0:
                if need > 0.0:
                    return None
                continue
            here = x * glide / need if need > 0.0 else math.inf
            if here < x and last is not None and last[1] < math.inf:
                # The cold end: between this point and the one before, what is allowed crosses what is given.
                (x0, here0) = last
                slope = (here - here0) / (x - x0)
                crossing = (here0 - slope * x0) / (1.0 - slope)
                return min(allowed, max(x0, min(crossing, x)))
            if min(allowed, here) < x:
                return min(allowed, x)
            allowed, heat, last = min(allowed, here), x, (x, here)
        return min(allowed, heat)

    def at_pressure(self, bar, t_in, t_out):
        """COP, heat (J/kg) and pressure ratio, or None."""
        p = bar * 1e5
        ratio = p / self.p1
        self.state.update(CoolProp.PSmass_INPUTS, p, self.s1)
        h2s = self.state.hmass()
        w = (h2s - self.h1) / (self.eta_is(ratio) * self.eta_motor)
        if w <= 0.0:
            return None
        h2 = self.h1 + (1.0 - SHELL_LOSS) * w
        self.state.update(CoolProp.HmassP_INPUTS, h2, p)
        points = self.profile(p, self.state.T())
        q = self.heat(points, h2, t_in, t_out)
        if q is None or q <= 0.0:
            return None
        q_evaporator = q - (h2 - self.h1)
        if q_evaporator <= 0.0:
            return None
        return q / (w + FAN * q_evaporator), q, ratio

    def best(self, t_in, t_out, steps=48, cuts=24):
        """COP, capacity per swept volume (W over m3/s) and discharge pressure (bar) at the best discharge pressure."""
        low = self.p1 / 1e5 * 1.3

        def cop(bar):
            result = self.at_pressure(bar, t_in, t_out)
            return result[0] if result else -1.0

        grid = [low * (self.most_bar / low) ** (i / steps) for i in range(steps + 1)]
        values = [cop(bar) for bar in grid]
        top = max(range(len(grid)), key=lambda i: values[i])
        if values[top] <= 0.0:
            return None
        lower, upper = grid[max(top - 1, 0)], grid[min(top + 1, steps)]
        for _ in range(cuts):
            a, b = lower + 0.382 * (upper - lower), lower + 0.618 * (upper - lower)
            if cop(a) >= cop(b):
                upper = b
            else:
                lower = a
        bar = max([0.5 * (lower + upper), grid[top]], key=cop)
        best_cop, q, ratio = self.at_pressure(bar, t_in, t_out)
        volumetric = 0.97 * (1.0 - 0.04 * (ratio ** (1.0 / self.exponent) - 1.0))
        return best_cop, volumetric * self.rho1 * q, bar


def main():
    draw = random.Random(744)
    rows = []
    for name in FLUIDS:
        reference = Cycle(name, 4.0).best(10.0 + ZERO_C, 55.0 + ZERO_C)
        kept = 0
        while kept < 20:
            room = round(draw.uniform(-1.5, 18.0), 1)
            water_in = round(draw.uniform(6.0, 43.0), 1)
            rise = round(draw.uniform(6.0, min(58.0, 65.0 - water_in)), 1)
            mean = rise / math.log((water_in + rise + ZERO_C) / (water_in + ZERO_C)) - ZERO_C
            if mean - room < LEAST_LIFT_DK:
                continue
            point = Cycle(name, room).best(water_in + ZERO_C, water_in + rise + ZERO_C)
            if point is None:
                continue
            kept += 1
            rows.append((name, room, water_in, rise, point[0], point[1] / reference[1], point[2]))
            print(rows[-1], flush=True)
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "cycle_points.csv")
    with open(path, "w", encoding="utf-8", newline="\n") as out:
        out.write(f"# made by cycle_points.py with CoolProp {CoolProp.__version__}; equations in that file\n")
        out.write("# equations of state: Span and Wagner 1996 (R744), Tillner-Roth and Baehr 1994 (R134a), "
                  "Lemmon, McLinden and Wagner 2009 (R290)\n")
        out.write("refrigerant,room_air_degc,water_in_degc,water_rise_k,cop,capacity,discharge_bar\n")
        for row in rows:
            out.write("{},{},{},{},{:.4f},{:.4f},{:.2f}\n".format(*row))


if __name__ == "__main__":
    main()
