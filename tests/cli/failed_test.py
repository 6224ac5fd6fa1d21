"""The command line of `panup failed`: what the driver is told when a pantograph fails on the road."""

import json

from command import ANSWER_NO, DONE, WRONG_INPUT, CommandTest, main
from schemas import assert_keeps_to


class FailedTest(CommandTest):
    def setUp(self) -> None:
        super().setUp()
        self.day = self.data / "demo/days/tuesday.toml"

    def failed(self, number: str, pantograph: str, km, *more, day=None):
        return self.run_panup("failed", day or self.day, "--number", number, "--pantograph", pantograph,
                              "--at", km, *more)

    def as_json(self, number: str, pantograph: str, km, *more, status=DONE) -> dict:
        done = self.failed(number, pantograph, km, "--format", "json", *more)
        self.assertEqual(done.returncode, status, done.stderr)
        return json.loads(done.stdout)

    def test_the_message_says_what_goes_up_how_fast_and_how_far(self) -> None:
        answer = self.as_json("41005", "1.1", 20)
        plan = answer["plan"]
        self.assertEqual(plan["route"]["from_km"], 20)
        self.assertEqual(plan["sections"][0]["from_km"], 20)
        self.assertNotIn("1.1", [one for section in plan["sections"] for one in section["raised"]])
        message = " ".join(answer["message"])
        for words in ("pantograph 1.1, which is number 1 of K41 007", "km 20.000", "is defective",
                      f"raise {plan['sections'][0]['raised'][0]}",
                      f"{plan['sections'][0]['speed_kmh']:g} km/h at most", "to the end of the route"):
            self.assertIn(words, message)
        self.assertLess(len(answer["message"]), 12)

    def test_a_pantograph_is_called_by_the_vehicles_own_number_too(self) -> None:
        self.assertEqual(self.as_json("41005", "K41 007.1", 20)["message"],
                         self.as_json("41005", "1.1", 20)["message"])

    def test_later_trains_with_the_vehicle_are_said_and_no_others(self) -> None:
        answer = self.as_json("41001", "K41 007.2", 20)
        self.assertEqual([one["number"] for one in answer["later_trains"]], ["41005", "41039"])
        self.assertTrue(answer["later_trains"][0]["card_again"])
        self.assertTrue(answer["later_trains"][0]["different"])
        later = self.as_json("41005", "K41 007.2", 20)["later_trains"]
        self.assertEqual([one["number"] for one in later], ["41039"], "the other has left by then")

    def test_a_train_that_cannot_go_on_is_told_so(self) -> None:
        answer = self.as_json("41017", "1.1", 20, status=ANSWER_NO)  # it has no other
        message = " ".join(answer["message"])
        self.assertIn("Raise nothing", message)
        self.assertIn("until help comes", message)
        self.assertEqual(answer["plan"]["sections"][0]["answer"], "no permitted configuration")

    def test_json_keeps_to_its_schema(self) -> None:
        for number, pantograph, status in (("41001", "K41 007.2", DONE), ("41017", "1.1", ANSWER_NO)):
            assert_keeps_to(self, self.as_json(number, pantograph, 20, status=status), "failed.schema.json")

    def test_it_is_written_where_it_is_asked_for(self) -> None:
        out = self.folder / "out"
        self.assertEqual(self.failed("41005", "1.1", 20, "--out", out).returncode, DONE)
        text = (out / "failed.txt").read_text(encoding="utf-8")
        self.assertIn("TO BE READ OUT TO THE DRIVER", text)
        self.assertTrue((out / "card.pdf").exists())
        self.assertEqual(text, self.failed("41005", "1.1", 20).stdout)

    def test_mistakes_are_said(self) -> None:
        self.assert_fails(self.failed("7", "1.1", 20), WRONG_INPUT, "the day has no train '7'")
        self.assert_fails(self.failed("41005", "3.1", 20), WRONG_INPUT, "the train has no pantograph 3.1")
        self.assert_fails(self.failed("41005", "K99.1", 20), WRONG_INPUT, "'K99.1' is no pantograph of the train")
        self.assert_fails(self.failed("41005", "1.1", 2000), WRONG_INPUT, "km 2000 lies outside the route")


if __name__ == "__main__":
    main()
