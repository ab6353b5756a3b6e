import shutil
import sqlite3
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from flueproof.capture.errors import SpoolError
from flueproof.capture.lines.pattern import Shown
from flueproof.capture.spool import FILE_NAME, KEPT_AFTER_SENDING, Spool

AT = "2026-11-25T10:00:00.120+00:00"


def values(*numbers):
    return [Shown("co", "ppm", 1, number) for number in numbers]


@pytest.fixture
def spool(tmp_path):
    one = Spool(tmp_path, "bench-1")
    yield one
    one.close()


def test_numbers_grow_by_one_from_the_first(tmp_path):
    spool = Spool(tmp_path, "bench-1", first=1_795_000_000_000)
    assert spool.add(AT, values(1, 2)) == 1_795_000_000_001
    assert [one.sequence for one in spool.unsent(10)] == [1_795_000_000_000, 1_795_000_000_001]
    assert spool.state().acknowledged_to == spool.state().tried_to == 1_795_000_000_000 - 1
    spool.close()
    again = Spool(tmp_path, "bench-1", first=5)
    assert again.add(AT, values(3)) == 1_795_000_000_002
    again.close()


def test_what_was_shown_comes_back_as_it_was(spool):
    shown = [
        Shown("o2", "%", 0.1, 20.9),
        Shown("co", "ppm", 1, 402),
        Shown("no", "ppm", 1, "OVER"),
        Shown("t", "°F", 1, -4),
    ]
    spool.add(AT, shown)
    assert [one.shown for one in spool.unsent(10)] == shown
    assert [type(one.shown.shown) for one in spool.unsent(10)] == [float, int, str, int]


def test_only_what_the_shop_acknowledged_is_left_out_of_the_next_batch(spool):
    spool.add(AT, values(*range(10)))
    spool.trying(7)
    assert len(spool.unsent(100)) == 10
    spool.acknowledge(4)
    assert [one.sequence for one in spool.unsent(3)] == [5, 6, 7]
    spool.acknowledge(2)
    assert spool.state().acknowledged_to == 4


def test_a_number_is_not_used_again_when_its_row_is_gone(spool):
    spool.add(AT, values(1, 2, 3))
    spool.acknowledge(3)
    spool.let_go_of_sent()
    assert spool.add(AT, values(4)) == 4


def test_old_acknowledged_rows_go_and_unsent_ones_never(spool):
    spool.add(AT, values(*range(KEPT_AFTER_SENDING + 50)))
    spool.acknowledge(KEPT_AFTER_SENDING + 20)
    rows = spool._base.execute("SELECT min(sequence), count(*) FROM readings").fetchone()
    assert rows == (21, KEPT_AFTER_SENDING + 30)
    spool.let_go_of_sent()
    assert [one.sequence for one in spool.unsent(100)] == list(range(KEPT_AFTER_SENDING + 21, KEPT_AFTER_SENDING + 51))


def test_a_second_agent_is_kept_away_and_let_in_when_the_first_has_ended(tmp_path, monkeypatch):
    monkeypatch.setattr("flueproof.capture.spool._LOCK_WAIT_S", 0.05)
    first = Spool(tmp_path, "bench-1")
    with pytest.raises(SpoolError, match="another agent"):
        Spool(tmp_path, "bench-1")
    first.close()
    Spool(tmp_path, "bench-1").close()


def test_every_commit_is_flushed_to_the_disk(spool):
    assert spool._base.execute("PRAGMA synchronous").fetchone() == (2,)
    assert spool._base.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_under_another_id_nothing_counts_as_tried_and_the_unclear_ones_are_told(tmp_path):
    first = Spool(tmp_path, "bench-1")
    first.add(AT, values(1, 2, 3))
    first.trying(2)
    first.acknowledge(1)
    first.close()
    second = Spool(tmp_path, "bench-2")
    assert (second.state().agent, second.state().tried_to, second.unclear_under_another_id) == ("bench-2", 1, 1)
    assert [one.sequence for one in second.unsent(10)] == [2, 3]
    second.close()


@pytest.mark.parametrize("content", [b"x" * 4096, b"SQLite format 3\0" + b"\xff" * 4080])
def test_a_damaged_file_is_named_and_left_as_it_is(content, tmp_path):
    file = tmp_path / FILE_NAME
    file.write_bytes(content)
    with pytest.raises(SpoolError) as refused:
        Spool(tmp_path, "bench-1")
    assert "damaged" in refused.value.message
    assert file.read_bytes() == content


def test_a_folder_that_cannot_be_made_is_named(tmp_path):
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(SpoolError) as refused:
        Spool(tmp_path / "file" / "spool", "bench-1")
    assert "--spool" in refused.value.remedy


def test_a_full_disk_keeps_nothing_of_a_line_and_says_so(spool):
    spool.add(AT, values(1))
    pages = spool._base.execute("PRAGMA page_count").fetchone()[0]
    spool._base.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(SpoolError, match="full"):
        spool.add(AT, [Shown("co", "ppm", 1, "x" * 5000)] * 20)
    assert [one.shown.shown for one in spool.unsent(100)] == [1]


def test_a_closed_spool_refuses_instead_of_losing(spool):
    spool.close()
    with pytest.raises(SpoolError):
        spool.add(AT, values(1))


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.integers(1, 4), min_size=1, max_size=12), st.floats(0.0, 1.0), st.binary(max_size=64))
def test_a_torn_end_of_the_log_costs_only_what_was_being_written(tmp_path, lines, torn_at, garbage):
    """The log is cut anywhere and rubbish follows: what is left is a beginning of what was written, line by line."""
    with tempfile.TemporaryDirectory(dir=tmp_path) as folder:
        alive, copy = Path(folder, "alive"), Path(folder, "copy")
        spool = Spool(alive, "bench-1")
        ends = [spool.add(AT, values(*range(count))) for count in lines]
        log = (alive / f"{FILE_NAME}-wal").read_bytes()
        shutil.copytree(alive, copy)
        spool.close()
        (copy / f"{FILE_NAME}-wal").write_bytes(log[: int(len(log) * torn_at)] + garbage)
        try:
            after = Spool(copy, "bench-1")
        except SpoolError:
            assert torn_at < 1.0
            return
        left = [one.sequence for one in after.unsent(1000)]
        assert left == list(range(1, len(left) + 1))
        assert len(left) in {0, *ends}
        if torn_at == 1.0:
            assert len(left) == ends[-1]
        assert after.add(AT, values(1)) == len(left) + 1
        after.close()


class SpoolMachine(RuleBasedStateMachine):
    """A spool against a plain model of it, through stops, kills and restarts."""

    def __init__(self):
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.spool = Spool(self.folder, "bench-1")
        self.kept, self.acknowledged, self.tried = [], 0, 0

    def teardown(self):
        self.spool.close()
        shutil.rmtree(self.folder)

    @rule(line=st.lists(st.one_of(st.integers(-999, 9999), st.sampled_from(["OVER", "----"])), min_size=1, max_size=5))
    def a_line_comes(self, line):
        last = self.spool.add(AT, values(*line))
        self.kept += line
        assert last == len(self.kept)

    @precondition(lambda self: len(self.kept) > self.acknowledged)
    @rule(limit=st.integers(1, 7), answered=st.booleans())
    def a_batch_is_posted(self, limit, answered):
        batch = self.spool.unsent(limit)
        assert [one.shown.shown for one in batch] == self.kept[self.acknowledged : self.acknowledged + limit]
        self.spool.trying(batch[-1].sequence)
        self.tried = max(self.tried, batch[-1].sequence)
        if answered:
            self.spool.acknowledge(batch[-1].sequence)
            self.acknowledged = batch[-1].sequence

    @rule()
    def room_is_made(self):
        self.spool.let_go_of_sent()

    @rule()
    def it_stops_and_starts(self):
        self.spool.close()
        self.spool = Spool(self.folder, "bench-1", first=9)

    @rule()
    def it_is_killed_and_starts(self):
        """The files as a killed process leaves them: log and all, nothing tidied up."""
        left = Path(tempfile.mkdtemp())
        shutil.copytree(self.folder, left, dirs_exist_ok=True)
        self.spool.close()
        shutil.rmtree(self.folder)
        self.folder = left
        self.spool = Spool(self.folder, "bench-1", first=9)

    @invariant()
    def the_state_is_that_of_the_model(self):
        state = self.spool.state()
        assert (state.last, state.tried_to, state.acknowledged_to) == (len(self.kept), self.tried, self.acknowledged)
        assert state.unsent == len(self.kept) - self.acknowledged


TestSpoolMachine = SpoolMachine.TestCase
TestSpoolMachine.settings = settings(max_examples=25, stateful_step_count=20)


def test_the_file_is_one_that_any_sqlite_can_read(spool, tmp_path):
    spool.add(AT, values(402))
    spool.close()
    other = sqlite3.connect(tmp_path / FILE_NAME)
    assert other.execute("SELECT sequence, channel, shown FROM readings").fetchall() == [(1, "co", "402")]
    other.close()
