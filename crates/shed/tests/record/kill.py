#!/usr/bin/env python3
"""Kills the program in the middle of writing, again and again: no entry it has acknowledged may be lost, and none doubled."""

import argparse
import collections
import http.client
import random
import tempfile
import threading
import time

from shed import Shed, Wire, fail, reading, rows, same


# Kills on one folder, so that making the file is often come upon, too.
ON_A_BOAT = 25


class Sender(threading.Thread):
    """Sends entries one group after the other, and sends again what was not acknowledged."""

    def __init__(self, host, numbers, unsent, acknowledged):
        super().__init__(daemon=True)
        self.wrong = []
        self.host, self.numbers, self.unsent, self.acknowledged = host, numbers, unsent, acknowledged

    def run(self):
        wire = Wire(self.host)
        dice = random.Random()
        while True:
            group = self.unsent or [next(self.numbers) for _ in range(dice.choice([1, 1, 2, 5, 40]))]
            self.unsent[:] = group
            try:
                status, answer = wire.send([reading(n) for n in group])
            except (OSError, http.client.HTTPException):
                return
            if status == 429:
                time.sleep(0.05)
                continue
            if status != 200 or answer["refused"]:
                # It would end this thread alone.
                self.wrong.append(f"{status}: {answer}")
                return
            self.acknowledged.extend(answer["stored"] + answer["known"])
            self.unsent.clear()


def again(shed, ids):
    """Sends all of them once more."""
    wire = Wire(shed.host)
    for at in range(0, len(ids), 500):
        while True:
            try:
                status, answer = wire.send([reading(n) for n in ids[at : at + 500]])
            except (OSError, http.client.HTTPException):
                # Too fast: the program has hung up in the middle of it.
                status = 429
            if status != 429:
                break
            time.sleep(0.1)
        if status != 200 or answer["refused"]:
            fail(f"sent again: {status} {answer}")


def boat(times, threads, dice):
    """Kills the program on a new folder so many times: how many entries there are, and how many groups were stored unheard."""
    numbers = [iter(range(10**9 * (t + 1), 10**9 * (t + 2))) for t in range(threads)]
    unsent = [[] for _ in range(threads)]
    acknowledged = [[] for _ in range(threads)]
    unheard = compared = 0
    with tempfile.TemporaryDirectory() as folder:
        for _ in range(times):
            shed = Shed(folder)
            senders = [Sender(shed.host, *all_of) for all_of in zip(numbers, unsent, acknowledged)]
            for sender in senders:
                sender.start()
            # The first moments, when the file is made and opened, as often as those of quiet writing.
            time.sleep(dice.choice([dice.uniform(0, 0.02), dice.uniform(0, 0.15), dice.uniform(0.1, 0.5)]))
            shed.kill()
            for sender in senders:
                sender.join(20)
                if sender.is_alive():
                    fail("a sender still waits for a program that was killed")
                if sender.wrong:
                    fail(sender.wrong[0])
            there = check(folder, acknowledged, compared) if any(acknowledged) else []
            compared = len(there)
            ids = {row["id"] for row in there}
            unheard += sum(1 for group in unsent if group and f"{group[0]:032x}" in ids)
        # All that was never acknowledged is sent once more, and all that was, too.
        ids = [int(i, 16) for all_of in acknowledged for i in all_of] + [n for group in unsent for n in group]
        shed = Shed(folder)
        again(shed, ids)
        shed.stop()
        count = len(check(folder, [[f"{n:032x}" for n in ids]], 0))
        if count != len(set(ids)):
            fail(f"{count} entries of {len(set(ids))}")
    return count, unheard


def main():
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--times", type=int, default=300)
    asked.add_argument("--threads", type=int, default=6)
    asked = asked.parse_args()
    dice = random.Random(7)
    left, entries, unheard = asked.times, 0, 0
    while left > 0:
        found = boat(min(left, ON_A_BOAT), asked.threads, dice)
        left, entries, unheard = left - ON_A_BOAT, entries + found[0], unheard + found[1]
    print(f"killed {asked.times} times while {asked.threads} wrote: {entries} entries acknowledged, none lost, none doubled, sound each time; "
          f"{unheard} groups had been stored and not yet acknowledged, and were not doubled when sent again")


def check(folder, acknowledged, compared):
    """That all of them are there once, and those after the first `compared` as they were sent; all rows."""
    wanted = {i for all_of in acknowledged for i in all_of}
    found = rows(folder)
    twice = [i for i, times in collections.Counter(row["id"] for row in found).items() if times > 1]
    if twice:
        fail(f"doubled: {twice[:5]}")
    lost = wanted - {row["id"] for row in found}
    if lost:
        fail(f"{len(lost)} acknowledged entries are lost: {sorted(lost)[:5]}")
    other = [row["id"] for row in found[compared:] if not same(row, reading(int(row["id"], 16)))]
    if other:
        fail(f"other content: {other[:5]}")
    order = [row["seq"] for row in found]
    if order != sorted(set(order)):
        fail("their numbers are out of order")
    return found


if __name__ == "__main__":
    main()
