"""How far apart two seeds propose for the yard: minutes of search, whose dated figures stand in docs/plan.md.

python tests/planner_seeds.py
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent / "unit" / "planner"))

from test_planner_proposal import WISHES

from aquacalc.garden.file import GardenFile
from aquacalc.planner import aim, propose
from aquacalc.season import plan

SEEDS = (1, 2)


def main() -> None:
    yard = GardenFile.open("demo:yard").changed(WISHES)
    begun = time.process_time()
    plan.of_garden(yard.garden, 200)
    season_s = time.process_time() - begun
    for seed in SEEDS:
        begun = time.process_time()
        found = propose.propose(yard, seed=seed)
        ratio = (time.process_time() - begun) / season_s
        before = aim.points(found.as_written, found.goal, 0)
        after = aim.points(found.proposed, found.goal, len(found.steps))
        print(f"seed {seed}: {before:.0f} points as written, {after:.0f} proposed in {ratio:.0f} seasons")


if __name__ == "__main__":
    main()
