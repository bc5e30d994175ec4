"""From the battery of a trip to the records of the march."""

import numpy as np
import pytest

from coldsoak.choose.battery import (
    cold_notes,
    efficiency,
    freezing_point,
    knots,
    lay_battery,
    powers,
    room,
)
from coldsoak.night.battery import KNOTS, NOTHING, advance_battery, begin_charge
from coldsoak.night.records import WEATHER, table
from coldsoak.physics.battery import BINS
from coldsoak.rig.battery import kind_of_battery
from coldsoak.rig.electric import Battery, Charger, Load

DAY = 86400.0
HOUR = 3600.0


def battery(kind="AGM", **keys):
    given = {
        "kind": kind_of_battery(kind),
        "energy": 1200.0 * HOUR,
        "state": 0.9,
        "inside": False,
        "cut_out": 0.1,
        "reconnect": 0.3,
        "loads": (),
        "solar": None,
        "alternator": (),
        "shore": (),
    }
    return Battery(**(given | keys))


def spans(begin, end):
    """Two days from midnight on."""
    length = (end - begin) % DAY or DAY
    starts = [begin - DAY, begin, begin + DAY]
    cut = [(max(0.0, t), min(2 * DAY, t + length)) for t in starts]
    return [(a, b) for a, b in cut if a < b]


@pytest.mark.parametrize("kind", ["flooded", "AGM", "gel", "LFP"])
def test_a_laid_out_battery_runs(kind):
    laid = lay_battery(battery(kind))
    charge = begin_charge(laid)
    columns = dict.fromkeys(WEATHER.names or (), 0.0)
    columns |= {"seconds": np.array([0.0, HOUR]), "air": np.array([280.0, 280.0])}
    sky = table(WEATHER, columns, 2)
    end, what = advance_battery(
        0.0, HOUR, 0, 60.0, 0.0, np.nan, np.nan, laid[0], charge[0], sky, np.zeros(2)
    )
    assert (end, what) == (HOUR, NOTHING)
    assert charge.state[0] == pytest.approx(0.9 - 60.0 / 1200.0, abs=1e-12)


@pytest.mark.parametrize("kind", ["flooded", "AGM", "gel", "LFP"])
def test_every_curve_fits_and_its_last_point_is_repeated(kind):
    found = kind_of_battery(kind)
    for curve in (found.capacity, found.acceptance):
        assert len(curve) <= KNOTS
        for column in (0, 1):
            filled = knots(curve, column)
            assert filled.shape == (KNOTS,)
            assert (filled[len(curve) - 1 :] == curve[-1][column]).all()


def test_lead_acid_tapers_and_lithium_does_not():
    lead, lithium = (room(kind_of_battery(kind)) for kind in ("flooded", "LFP"))
    assert lead == pytest.approx(1.0 - (np.arange(BINS) + 0.5) / BINS)
    assert (lithium == 1.0).all()


def test_the_efficiency_of_a_bin_is_that_of_its_middle():
    found = efficiency(kind_of_battery("flooded"))
    ratio = 12.0 / 14.4
    assert found[15] == pytest.approx(0.95 * ratio)  # 75 to 80 %
    assert found[16] == pytest.approx(0.55 * ratio)  # 80 to 85 %
    assert found[17] == pytest.approx(0.50 * ratio)


def test_loads_and_chargers_are_steps_in_time():
    one = battery(
        loads=(Load("lights", 20.0, ((17 * HOUR, 22 * HOUR),)), Load("controls", 3.0, "always")),
        alternator=(Charger((21 * HOUR, 23 * HOUR), 300.0),),
        shore=(Charger((22 * HOUR, 2 * HOUR), 200.0),),
    )
    found = {step.seconds / HOUR: (step.load, step.charger) for step in powers(one, spans)}
    assert found[0.0] == (3.0, 200.0)
    assert found[2.0] == (3.0, 0.0)
    assert found[17.0] == (23.0, 0.0)
    assert found[21.0] == (23.0, 300.0)
    assert found[22.0] == (3.0, 500.0)
    assert found[23.0] == (3.0, 200.0)
    assert found[26.0] == (3.0, 0.0)


def test_a_battery_without_loads_has_one_step():
    assert powers(battery(), spans) == [(0.0, 0.0, 0.0)]


def test_a_warm_battery_needs_no_words():
    assert cold_notes(battery(), 283.15, 0.5, 0.0) == []
    assert cold_notes(battery("LFP"), 270.0, 0.0, 0.0) == []


def test_a_flat_battery_in_the_cold_can_burst():
    notes = cold_notes(battery("flooded"), 258.15, 0.1, 0.0)
    assert any("burst" in note for note in notes)
    assert not any("burst" in note for note in cold_notes(battery("flooded"), 258.15, 0.9, 0.0))


def test_capacity_in_deep_cold_is_called_a_guess():
    assert any("guess" in note for note in cold_notes(battery("AGM"), 270.0, 1.0, 0.0))
    assert not any("guess" in note for note in cold_notes(battery("flooded"), 270.0, 1.0, 0.0))


def test_charge_that_the_cold_blocks_is_told():
    (note,) = cold_notes(battery("LFP"), 265.0, 0.5, 0.36e6)
    assert "0.10 kWh" in note
    assert "0 degC" in note


def test_the_acid_freezes_between_its_published_points():
    kind = kind_of_battery("flooded")
    assert freezing_point(kind, 0.0) == pytest.approx(262.45)
    assert freezing_point(kind, 0.125) == pytest.approx(273.15 - (10.7 + 17.4) / 2)
