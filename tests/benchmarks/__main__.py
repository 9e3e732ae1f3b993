"""Runs every benchmark of this folder, one after the other, each in a fresh process: `python -m tests.benchmarks [name …]`."""

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent


def main() -> int:
    """The tables, and how many benchmarks could not be run to their end."""
    known = sorted(path.stem for path in HERE.glob("*.py") if not path.stem.startswith("_"))
    strangers = [name for name in sys.argv[1:] if name not in known]
    if strangers:
        print(f"There is no benchmark {', '.join(strangers)}; there are {', '.join(known)}.")
        return 2
    failed = []
    for name in sys.argv[1:] or known:
        print(f"== {name}", flush=True)
        done = subprocess.run([sys.executable, "-m", f"tests.benchmarks.{name}"], cwd=HERE.parent.parent, check=False)
        if done.returncode:
            failed.append(name)
    if failed:
        print(f"Not run to the end: {', '.join(failed)}.")
    return len(failed)


if __name__ == "__main__":
    sys.exit(main())
