"""Two people take the last pieces at the same moment, each on a connection of their own."""

import json

from shop.serving import running_shop

READY = """
from django.utils import timezone
from flueproof.shop.records.models import Part, Person, Shop
from flueproof.shop.records.stock.ledger import Pen
from flueproof.shop.records.stock.receiving import Delivery, receive
Shop.here()
people = [Person.objects.create_user(role, role=role) for role in ("technician", "manager")]
part = Part.objects.create(code="PUMP-1", title="pump", kind="pump")
receive(part, Delivery("P-1", 3), Pen(people[0], timezone.now()))
"""
BOTH = """
import json
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from django.db import connection
from django.utils import timezone
from flueproof.shop.records.models import PartLot, Person, StockMove
from flueproof.shop.records.stock.errors import StockError
from flueproof.shop.records.stock.ledger import Pen
from flueproof.shop.records.stock.taking import take_out
gate = Barrier(2)

def pressed(who):
    try:
        lot, by = PartLot.objects.select_related("part").get(), Person.objects.get(username=who)
        gate.wait(30)
        take_out(lot, 2, None, Pen(by, timezone.now()), why="at once")
        return "taken"
    except StockError as error:
        return error.words
    finally:
        connection.close()

with ThreadPoolExecutor(2) as pool:
    said = sorted(pool.map(pressed, ("technician", "manager")))
print(json.dumps([said, PartLot.objects.get().on_hand, StockMove.objects.filter(kind="taken").count()]))
"""


def test_of_two_who_take_two_of_three_one_is_refused(tmp_path):
    with running_shop(tmp_path / "two", make=READY, serve=False) as shop:
        said, left, moves = json.loads(shop.python(BOTH))
    assert said[1] == "taken"
    assert "1 is there by the books; 2 cannot go out" in said[0]
    assert (left, moves) == (1, 1)
