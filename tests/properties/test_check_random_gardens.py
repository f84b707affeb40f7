"""Random garden files through `aquacalc check`: a balance or one sentence a line, and the file untouched."""

from pathlib import Path

import pytest
import random_gardens
from hypothesis import HealthCheck, given, settings

from aquacalc.cli.command import main
from aquacalc.garden.file import GardenFile
from aquacalc.schedule import problems


@pytest.mark.slow
def test_check_prints_a_balance_or_the_problems(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    path = tmp_path / "garden.toml"
    codes: list[int] = []

    @settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow])
    @given(random_gardens.files())
    def check(file: random_gardens.File) -> None:
        path.write_bytes(file.text.encode())
        code = main(["check", str(path)])
        said = capsys.readouterr()
        codes.append(code)
        # A file without a mistake may still hold fish that cannot live in its climate.
        refused = file.mistakes or problems.problems(GardenFile.open(str(path)).garden)
        assert code == (2 if refused else 0)
        if refused:
            assert said.out == ""
            assert all(line.endswith(".") for line in said.err.splitlines())
        else:
            assert said.err == ""
            assert len(said.out.splitlines()) > 20
        assert "Traceback" not in said.out + said.err
        assert path.read_bytes() == file.text.encode()
        assert [one.name for one in tmp_path.iterdir()] == ["garden.toml"]

    check()
    assert codes.count(0) >= 0.3 * len(codes)
