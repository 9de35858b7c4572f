"""See that the tests have what they need from the machine: a Chromium, a PDF reader, a C compiler.

On Debian as root what is missing is installed; elsewhere it is named loudly, and on CI that is a failure.
"""

import os
import shutil
import subprocess
import sys

NEEDED = {
    "chromium": ("chromium", "google-chrome", "google-chrome-stable"),
    "poppler-utils": ("pdftoppm",),
    "gcc": ("gcc", "cc"),
}


def missing() -> list[str]:
    """Debian packages of which no program is found."""
    return [package for package, programs in NEEDED.items() if not any(map(shutil.which, programs))]


def install(packages: list[str]) -> None:
    """Install them with apt-get where that can work; say so where it cannot."""
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    print(f"installing {', '.join(packages)} for the tests", file=sys.stderr)
    subprocess.run(["apt-get", "update", "-qq"], check=False, env=environment, **quiet)
    subprocess.run(
        ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages], check=False, env=environment, **quiet
    )


def main() -> int:
    """0 when all is there, or when its absence has been said aloud; 1 on CI."""
    if missing():
        install(missing())
    for package in missing():
        print(f"NOT TESTED: what needs {package}; install it and run make test again", file=sys.stderr)
    return 1 if missing() and os.environ.get("CI") else 0


if __name__ == "__main__":
    sys.exit(main())
