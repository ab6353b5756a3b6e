"""Two people import the same list at the same moment, each on a connection of their own: it is imported once."""

from shop.serving import running_shop

READY = """
from django.utils import timezone
from flueproof.shop.records.importing.runs import change_understanding, take_file, understanding_of_run
from flueproof.shop.records.models import Person, Shop
by = Person.objects.create_user("counter", role="counter")
Shop.here()
rows = "".join(f"Firm {n // 3} (invented),Orrin,Orrin 5,N4{n:06d}\\n" for n in range(600))
for _ in range(2):
    run = take_file(("Customer,Make,Model,Serial\\n" + rows).encode(), "a.csv", by, timezone.now())
    change_understanding(run, understanding_of_run(run), by, timezone.now())
"""
AT_ONCE = """
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from django.db import connection
from django.utils import timezone
from flueproof.shop.records.importing.acting.doing import do_import
from flueproof.shop.records.importing.errors import ChangedMeanwhileError
from flueproof.shop.records.models import Analyzer, ImportRun, Owner, Person

together = Barrier(2)

def do(key):
    run, by = ImportRun.objects.get(pk=key), Person.objects.get()
    together.wait(timeout=60)
    try:
        do_import(run, by, timezone.now())
        return "done"
    except ChangedMeanwhileError:
        return "changed"
    finally:
        connection.close()

with ThreadPoolExecutor(2) as pool:
    said = sorted(pool.map(do, [1, 2]))
print(*said, Owner.objects.count(), Analyzer.objects.count(), Analyzer.history.count())
"""


def test_a_list_imported_by_two_at_once_is_there_once(tmp_path):
    with running_shop(tmp_path, make=READY, serve=False) as shop:
        assert shop.python(AT_ONCE).split() == ["changed", "done", "200", "600", "600"]
