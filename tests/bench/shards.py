"""shards.py LANYARD [--cars N] [--channels MOST] [--shares N]

How much of N processors is used when N cars' models, or one car's claims, are shared among N processes of one thread each.
Prints wall-clock and processor seconds, and the efficiency: the wall-clock time of one process over all models, divided by
N times that of the N processes side by side; and, for a machine that others use too, the same of processor seconds: those
of one process divided by those of all. Checks that what lanyard merge prints is what one process prints.
"""
import argparse
import concurrent.futures
import json
import pathlib
import resource
import subprocess
import tempfile
import time

from family import family


class Measured:
    """Wall-clock and processor seconds of what is done inside."""

    def __enter__(self):
        self.wall, self.cpu = -time.monotonic(), -self.children()
        return self

    def __exit__(self, *_):
        self.wall += time.monotonic()
        self.cpu += self.children()

    @staticmethod
    def children():
        used = resource.getrusage(resource.RUSAGE_CHILDREN)
        return used.ru_utime + used.ru_stime


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("lanyard")
    parser.add_argument("--cars", type=int, default=200)
    parser.add_argument("--channels", type=int, default=3, help="of the largest car; the others have fewer")
    parser.add_argument("--shares", type=int, default=2)
    given = parser.parse_args()
    lanyard, shares = str(pathlib.Path(given.lanyard).resolve()), given.shares

    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        cars = [f"{i:03}" for i in range(1, given.cars + 1)]
        for i, car in enumerate(cars):
            # Every tenth has a defect; no two are the same model.
            model = {**family(i % given.channels + 1, i % 10 == 9), "name": f"car {car}"}
            (folder / f"{car}.json").write_text(json.dumps(model), encoding="utf-8")

        def judge(car, *words):
            done = subprocess.run([lanyard, *words], cwd=folder, capture_output=True, check=False)
            if done.returncode not in (0, 10):
                raise SystemExit(f"car {car}: {done.stderr.decode()}")
            return done.stdout

        def check(car, *words):
            return judge(car, "check", f"{car}.json", "--jobs", "1", *words)

        def share(car, number):
            check(car, "--shard", f"{number}/{shares}", "--part", f"{car}-{number}.part")

        def side_by_side(work):
            with concurrent.futures.ThreadPoolExecutor(shares) as pool:
                list(pool.map(work, range(1, shares + 1)))

        with Measured() as one:
            whole = {car: check(car) for car in cars}
        with Measured() as by_car:
            side_by_side(lambda k: [check(car) for car in cars[k - 1::shares]])
        with Measured() as by_claim:
            side_by_side(lambda k: [share(car, k) for car in cars])
        with Measured() as merging:
            merged = {car: judge(car, "merge", *(f"{car}-{k}.part" for k in range(1, shares + 1)), "--jobs", str(shares))
                      for car in cars}
    if merged != whole:
        raise SystemExit("merged parts do not print what one process prints")

    print(f"{len(cars)} cars of 1 to {given.channels} claims, {shares} processes of one thread")
    print(f"{'':34}{'wall s':>9}{'cpu s':>9}{'efficiency':>12}{'of cpu':>8}")
    for words, wall, cpu in (("one process", one.wall, one.cpu), ("shared by the car", by_car.wall, by_car.cpu),
                             ("shared by the claim", by_claim.wall, by_claim.cpu), ("merge alone", merging.wall, merging.cpu),
                             ("shared by the claim, and merged", by_claim.wall + merging.wall, by_claim.cpu + merging.cpu)):
        shared = words not in ("one process", "merge alone")
        efficiency = f"{one.wall / (shares * wall):12.2f}{one.cpu / cpu:8.2f}" if shared else ""
        print(f"{words:34}{wall:9.1f}{cpu:9.1f}{efficiency}")


if __name__ == "__main__":
    main()
