#!/usr/bin/env python3
"""A full disk, a folder that cannot be written, two servers: each is told, and nothing is lost."""

import os
import pathlib
import resource
import shutil
import subprocess
import tempfile

from shed import PROGRAM, Shed, Wire, fail, reading, rows


def fill(shed, folder, what):
    """Sends entries until one is refused, makes room by `what` and sends that again."""
    wire, number, acknowledged = Wire(shed.host), 1, []
    while number < 200_000:
        group = [reading(n) for n in range(number, number + 100)]
        status, answer = wire.send(group)
        if status != 200:
            break
        acknowledged += answer["stored"]
        number += 100
    if number >= 200_000:
        fail(f"{what}: it was never full")
    return status, answer, acknowledged, group


def limited(folder):
    """No file may be longer than 300 kB: works for everybody."""

    def limit():
        resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, resource.RLIM_INFINITY))

    # Python ignores the signal that comes with it, and with that the program gets an error instead, as from a disk.
    shed = Shed(folder, preexec_fn=limit, restore_signals=False)
    status, said, acknowledged, group = fill(shed, folder, "limited")
    if status != 500 or "nothing was stored" not in said:
        fail(f"limited: {status} {said}")
    resource.prlimit(shed.child.pid, resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    after(shed, folder, acknowledged, group, "limited")


def full(folder):
    """A disk of one megabyte, where one may be made."""
    made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=1m", "none", folder], capture_output=True, check=False)
    if made.returncode:
        return print("no disk could be made to be filled (only root can): left out; the limit above stands for it")
    try:
        shed = Shed(folder)
        pathlib.Path(folder, "ballast").write_bytes(b"x" * 400_000)
        status, said, acknowledged, group = fill(shed, folder, "full")
        if status != 507 or "the disk is full: nothing was stored" not in said:
            fail(f"full: {status} {said}")
        pathlib.Path(folder, "ballast").unlink()
        after(shed, folder, acknowledged, group, "full")
    finally:
        subprocess.run(["umount", folder], check=True)


def after(shed, folder, acknowledged, group, what):
    """Nothing acknowledged is missing, and the program goes on as soon as there is room."""
    missing = set(acknowledged) - {row["id"] for row in rows(folder)}
    if missing:
        fail(f"{what}: {len(missing)} acknowledged entries are missing")
    status, answer = Wire(shed.host).send(group)
    if status != 200 or len(answer["stored"]) != len(group):
        fail(f"{what}, with room again: {status} {answer}")
    shed.stop()
    found = [row["id"] for row in rows(folder)]
    if found != acknowledged + [entry["id"] for entry in group]:
        fail(f"{what}: {len(found)} entries of {len(acknowledged) + len(group)}")
    print(f"{what}: told after {len(acknowledged)} entries, all of them there; written to again with room")


def read_only(folder):
    """A folder that this user may read and not write."""
    shed = Shed(folder)
    Wire(shed.host).send([reading(1)])
    shed.stop()
    os.chmod(folder, 0o555)
    os.chmod(f"{folder}/record.sqlite", 0o444)
    # Root may write anywhere: the program runs as nobody then.
    nobody = {"user": 65534, "group": 65534} if os.geteuid() == 0 else {}
    shed = Shed(folder, **nobody)
    wire = Wire(shed.host)
    status, said = wire.send([reading(2)])
    if status != 500 or "cannot be written" not in said or "nothing was stored" not in said:
        fail(f"read only: {status} {said}")
    status, text, _ = wire.ask("GET", "/boat/entries")
    if status != 200 or text.count(b'"seq"') != 1:
        fail(f"read only, read: {status} {text}")
    printed = subprocess.run([PROGRAM, "record", str(folder)], capture_output=True, text=True, check=True, **nobody).stdout
    if printed.count("\n") != 2:
        fail(f"read only, printed: {printed}")
    shed.stop()
    os.chmod(folder, 0o755)
    print("read only: told; what is there is read")


def two(folder):
    """Two servers on one folder."""
    first, second = Shed(folder), Shed(folder)
    one, other = Wire(first.host), Wire(second.host)
    one.send([reading(1)])
    status, said = other.send([reading(2)])
    if status != 409 or f"open for writing at {first.address}" not in said:
        fail(f"two: {status} {said}")
    if other.ask("GET", "/boat/entries")[1].count(b'"seq"') != 1:
        fail("two: the second does not read what the first has written")
    first.kill()
    status, answer = other.send([reading(2)])
    if status != 200:
        fail(f"two, the first is dead: {status} {answer}")
    second.stop()
    if [row["id"] for row in rows(folder)] != [reading(n)["id"] for n in (1, 2)]:
        fail("two: entries are missing")
    # Whoever asks with the first's flag is told before anything opens.
    first = Shed(folder)
    ended = subprocess.run([PROGRAM, str(folder), "--no-browser", "--phones=127.0.0.1"], capture_output=True, text=True, check=False)
    if ended.returncode != 3 or f"open for writing at {first.address}" not in ended.stderr:
        fail(f"two, with phones: {ended.returncode} {ended.stderr}")
    first.stop()
    print("two servers: the second is told where she is open, reads, and writes when the first is dead")


def main():
    for each in (limited, full, read_only, two):
        folder = tempfile.mkdtemp()
        os.chmod(folder, 0o755)
        try:
            each(folder)
        finally:
            os.chmod(folder, 0o755)
            shutil.rmtree(folder)


if __name__ == "__main__":
    main()
