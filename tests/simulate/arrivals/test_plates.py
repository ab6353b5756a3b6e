from flueproof.simulate.arrivals.plates import Plates, filled


def test_a_pattern_is_filled_with_running_number_year_and_letters():
    assert filled("S%-~####", (42, "24", "B")) == "SB-240042"


def test_a_batch_goes_on_in_the_region_where_it_was_opened(chance):
    plates = Plates(chance(3))
    make, model, serial = plates.draw("north")
    again = plates.following(make, model, "north")
    assert again[:2] == (make, model)
    assert again[2] != serial
    assert len(again[2]) == len(serial)


def test_a_batch_never_opened_is_drawn(chance):
    make, model, serial = Plates(chance(4)).following("Hollin", "HC-200", "south")
    assert make
    assert model
    assert serial
