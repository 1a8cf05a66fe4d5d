"""The commands of the office: the register's exit codes, and the schemas as they are printed."""

import json
import subprocess
import sys

import pytest

from loadplan.cli.shop_commands import SchemaKind
from loadplan.files import shipped_folder
from loadplan.files.schema import FileKind, all_schemas, file_schema

DEMO = shipped_folder("demo")


def ran(*arguments: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "loadplan", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_a_shop_that_cannot_be_read_is_2() -> None:
    done = ran("shop", DEMO / "front-unit.toml", DEMO)
    assert done.returncode == 2
    assert 'front-unit.toml, schema: must be "loadplan-shop-1"' in done.stderr
    assert done.stdout == ""


def test_all_schemas_are_one_object() -> None:
    assert json.loads(ran("schema").stdout) == all_schemas()


@pytest.mark.parametrize("kind", SchemaKind)
def test_the_kinds_are_those_of_the_files(kind: SchemaKind) -> None:
    assert [each.value for each in SchemaKind] == [each.value for each in FileKind]
    assert FileKind(kind.value)


def test_one_kind_is_a_schema_alone() -> None:
    assert json.loads(ran("schema", "--kind", "job").stdout) == file_schema(FileKind.JOB)
