"""Tables and headlines of the program: in words, no wider than a page, and the time shared among claims.

tables_test.py PATH-OF-LANYARD
"""

import csv
import io
import pathlib
import sys
import unittest

from in_folder import InFolder

ROOT = pathlib.Path(__file__).resolve().parents[2]
PAGE = 80

# Names of forty characters, and conditions that take more than a line.
WIDE = {
    "lanyard": 1,
    "name": "Names of forty characters, and conditions that take a line",
    "scan": "10 ms",
    "quantities": {
        "oil_pressure_at_the_end_of_the_main_rail": {
            "range": "0 .. 100 psi",
            "healthy": "20 .. 90 psi"
        }
    },
    "inputs": {
        "ignition_switch_on_the_dashboard_console": "maintained",
        "start_button_on_the_steering_wheel_right": "momentary",
        "oil_sensor_at_the_end_of_the_main_rail_A": {
            "senses": "oil_pressure_at_the_end_of_the_main_rail",
            "accuracy": "2 psi"
        }
    },
    "logic": {
        "oil_pressure_was_too_low_for_a_long_time": "SR(TON(oil_sensor_at_the_end_of_the_main_rail_A < 15 psi AND ignition_switch_on_the_dashboard_console, 5 s), NOT ignition_switch_on_the_dashboard_console)"
    },
    "outputs": {
        "injector_driver_of_the_first_bank_of_four": {
            "on": "ignition_switch_on_the_dashboard_console AND NOT oil_pressure_was_too_low_for_a_long_time",
            "drives": "low side"
        },
        "coil_driver_of_the_second_bank_of_the_six": {
            "on": "ignition_switch_on_the_dashboard_console",
            "drives": "low side"
        }
    },
    "circuit": {
        "parts": {
            "battery_behind_the_seat_on_the_left_side": "battery",
            "fuse_for_the_injectors_in_the_small_box_1": "fuse",
            "injectors_of_the_first_bank_of_cylinders": "load",
            "coils_of_the_second_bank_of_the_cylinders": "load"
        },
        "wires": {
            "W1": "battery_behind_the_seat_on_the_left_side - fuse_for_the_injectors_in_the_small_box_1 - injectors_of_the_first_bank_of_cylinders - injector_driver_of_the_first_bank_of_four",
            "W2": "fuse_for_the_injectors_in_the_small_box_1 - coils_of_the_second_bank_of_the_cylinders - coil_driver_of_the_second_bank_of_the_six"
        }
    },
    "faults": {
        "any wire.open": "never",
        "any wire.to_ground": "never"
    },
    "conditions": {
        "the_car_stands_in_the_pits_with_no_driver": "NOT start_button_on_the_steering_wheel_right AND oil_pressure_at_the_end_of_the_main_rail < 50 psi"
    },
    "claims": {
        "injectors go off in time when oil is low for": {
            "whenever": "oil_pressure_at_the_end_of_the_main_rail < 10 psi AND ignition_switch_on_the_dashboard_console",
            "for": "5 s",
            "then": "NOT injectors_of_the_first_bank_of_cylinders",
            "within": "100 ms",
            "under": "the_car_stands_in_the_pits_with_no_driver"
        },
        "coils_go_off_in_time_when_the_oil_is_low_": {
            "whenever": "oil_pressure_at_the_end_of_the_main_rail < 10 psi AND ignition_switch_on_the_dashboard_console",
            "for": "5 s",
            "then": "NOT coils_of_the_second_bank_of_the_cylinders",
            "within": "100 ms",
            "under": "NOT start_button_on_the_steering_wheel_right AND oil_pressure_at_the_end_of_the_main_rail < 50 psi"
        },
        "injectors_can_be_switched_on_by_the_driver": {
            "possible": "injectors_of_the_first_bank_of_cylinders AND coils_of_the_second_bank_of_the_cylinders",
            "under": "any"
        }
    }
}

# The lamps light together after 47027 scans only, which takes long to find out.
HARD = {
    "lanyard": 1,
    "name": "Hard beside easy",
    "inputs": {"go": "maintained"},
    "outputs": {
        "lamp_1": "TON(NOT previous(lamp_1), 290 ms)",
        "lamp_2": "TON(NOT previous(lamp_2), 350 ms)",
        "lamp_3": "TON(NOT previous(lamp_3), 390 ms)",
        "pump": "go",
    },
    "claims": {
        "hard": {"always": "NOT (lamp_1 AND lamp_2 AND lamp_3)"},
        "easy": {"whenever": "NOT go", "then": "NOT pump", "within": "50 ms"},
    },
}


class Tables(InFolder):
    def run_program(self, *words, codes=(0,)):
        return self.outputs(*words, codes=codes)[0]

    def headlines(self, *words):
        """Claim -> what is said of it in short."""
        self.run_program("check", *words, "--csv", "verdicts.csv", codes=(0, 10, 20))
        rows = csv.DictReader(io.StringIO((self.path / "verdicts.csv").read_text(encoding="utf-8-sig")))
        return {row["claim"]: row["summary"] for row in rows}

    def test_no_line_is_wider_than_a_page(self):
        self.write("wide.json", WIDE)
        (self.path / "script.csv").write_text(
            "time,ignition_switch_on_the_dashboard_console\n0,off\n0.02,on\n", encoding="utf-8")
        for words in (["check", "wide.json", "--examples"], ["check", "wide.json", "--counterexamples", "3"],
                      ["faults", "wide.json", "--order", "2"], ["faults", "wide.json", "--stories"],
                      ["needs", "wide.json"], ["mutants", "wide.json"], ["findings", "wide.json"], ["card", "wide.json"],
                      ["run", "wide.json", "--script", "script.csv"]):
            text = self.run_program(*words, codes=(0, 10, 20))
            self.assertGreater(len(text.splitlines()), 4, words)
            wide = [line for line in text.splitlines() if len(line) > PAGE]
            self.assertEqual(wide, [], words)

    def test_a_long_row_goes_on_below(self):
        self.write("wide.json", WIDE)
        text = self.run_program("check", "wide.json", codes=(10,))
        self.assertEqual(text.split("\n\n")[1], """  proved     injectors go off in time when oil is low for, under
             the_car_stands_in_the_pits_with_no_driver
               rests on: injector_driver_of_the_first_bank_of_four,
               oil_pressure_was_too_low_for_a_long_time,
               ignition_switch_on_the_dashboard_console,
               injectors_of_the_first_bank_of_cylinders and 1 more
  REFUTED    coils_go_off_in_time_when_the_oil_is_low_, under NOT
             start_button_on_the_steering_wheel_right AND
             oil_pressure_at_the_end_of_the_main_rail < 50 psi
               the coils_of_the_second_bank_of_the_cylinders stay on
  proved     injectors_can_be_switched_on_by_the_driver, under any
               reached at 0.00 s""")

    def test_a_condition_is_spelled_out_once(self):
        self.write("wide.json", WIDE)
        self.run_program("check", "wide.json", "--csv", "verdicts.csv", codes=(10,))
        rows = list(csv.DictReader(io.StringIO((self.path / "verdicts.csv").read_text(encoding="utf-8-sig"))))
        self.assertEqual([row["condition"] for row in rows], [
            "the_car_stands_in_the_pits_with_no_driver",
            "condition 1: NOT start_button_on_the_steering_wheel_right AND oil_pressure_at_the_end_of_the_main_rail < 50 psi",
            "any",
        ])

    def test_headlines_of_words(self):
        self.assertEqual(self.headlines(str(ROOT / "tests" / "cases" / "refuted" / "words.json")), {
            "oil cut": "the injectors stay on",
            "kill": "the injectors go off too late",
            "override": "the injectors stay on",
            "stays off": "the injectors are on again before start is newly pressed, seen at 1.01 s",
            "no cut by itself": "the injectors are off at 0.01 s",
            "never both": "halted and low are both on at 0.20 s",
            "starter": "starter is on while ignition is off, seen at 0.00 s",
            "starter, in time": "starter goes off too late",
            "pump waits": "fuel_pump is on before ignition is on, seen at 0.00 s",
            "prime": "fuel_pump is on for longer than 2 s while start is not pressed, seen at 2.00 s",
            "no start without ignition": "starter is on before ignition is on, seen at 0.01 s",
            "halted to the start": "halted is off after pit_kill is on and before start is pressed, seen at 1.01 s",
            "ignition first": "fuel_pump is on before ignition is on, seen at 0.00 s",
            "no fuel in between": "the injectors are on after pit_kill is on and before start is pressed, seen at 1.02 s",
        })

    def test_what_is_hard_does_not_starve_what_is_easy(self):
        self.write("hard.json", HARD)
        text = self.run_program("faults", "hard.json", "--time", "20", "--jobs", "1", codes=(10, 20))
        self.assertIn("\n  easy  fails with go.stuck_on", text)
        self.assertIn("\n  hard  not judged: undecided without a fault: the time given with", text)
        text = self.run_program("mutants", "hard.json", "--time", "20", "--jobs", "1")
        self.assertIn("\njudged by     easy\n", text)
        self.assertNotIn("undecided", text)
        text = self.run_program("needs", "hard.json", "--time", "20", "--jobs", "1", codes=(20,))
        self.assertIn("\neasy: proved, hard.json:", text)
        self.assertIn("\n  every proof   pump\n", text)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
