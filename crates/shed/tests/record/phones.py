#!/usr/bin/env python3
"""Many paired phones that post at the same moment: none may be refused; how long each waits is measured and printed."""

import argparse
import http.client
import re
import shutil
import tempfile
import threading
import time

from shed import BOAT, Shed, Wire, fail, reading, rows


def paired(shed, name):
    """Where a phone is let in, and its cookie."""
    laptop = Wire(shed.host)
    form = "application/x-www-form-urlencoded"
    status, text, _ = laptop.ask("POST", "/phones/pair", f"name={name}", form)
    if status != 303:
        fail(f"no code: {status} {text.decode()}")
    page = laptop.ask("GET", "/phones")[1].decode()
    host, code = re.search(r'class="address">http://([^/]+)/pair/([0-9a-f]{32})<', page).groups()
    status, text, head = Wire(host).ask("POST", f"/pair/{code}", "", form)
    if status != 303:
        fail(f"not paired: {status} {text.decode()}")
    return host, head["Set-Cookie"].split(";")[0]


def main():
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--phones", type=int, default=50)
    asked.add_argument("--rounds", type=int, default=20)
    asked = asked.parse_args()
    waits, refused = [], []
    with tempfile.TemporaryDirectory() as folder:
        boat = f"{folder}/boat"
        shutil.copytree(BOAT, boat)
        shed = Shed(boat, "--phones=127.0.0.1")
        try:
            all_of = []
            for n in range(asked.phones):
                # The laptop takes forty presses a second.
                time.sleep(0.03)
                all_of.append(paired(shed, f"Phone+{n}"))
            start = threading.Barrier(asked.phones)

            def post(n, host, cookie):
                wire = Wire(host, cookie)
                wire.connection.connect()
                for turn in range(asked.rounds):
                    start.wait()
                    began = time.perf_counter()
                    status, answer = wire.send([reading(n * 10**6 + turn)])
                    waits.append(time.perf_counter() - began)
                    if status != 200 or answer["refused"]:
                        refused.append((status, answer))

            def phone(n, host, cookie):
                try:
                    post(n, host, cookie)
                except threading.BrokenBarrierError:
                    # Another has given up, and says why.
                    pass
                except (OSError, http.client.HTTPException) as why:
                    refused.append((f"phone {n}", why))
                    start.abort()

            threads = [threading.Thread(target=phone, args=(n, *one)) for n, one in enumerate(all_of)]
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
        finally:
            shed.stop()
        stored = rows(boat)
    if refused:
        fail(f"{len(refused)} posts refused: {refused[:3]}")
    if len(stored) != asked.phones * asked.rounds or len({row["device"] for row in stored}) != asked.phones:
        fail(f"{len(stored)} entries of {asked.phones * asked.rounds}")
    waits.sort()
    part = lambda share: 1000 * waits[min(len(waits) - 1, int(share * len(waits)))]
    print(f"{asked.phones} phones at once, {asked.rounds} times: none refused; ms to an entry on the disk: half {part(0.5):.1f}, "
          f"95 of 100 {part(0.95):.1f}, longest {1000 * waits[-1]:.1f}")


if __name__ == "__main__":
    main()
