"""`flueproof flue`: one reading, many readings, fuels, refusals."""

import csv
import io
import json

import pytest

READING = ("flue", "--fuel", "natural-gas", "--o2", "5", "--stack", "200", "--air", "20", "--co", "100")


@pytest.fixture
def told(run):
    def answer(*words):
        result = run(*words, "--json")
        assert result.exit_code == 0, result.output
        return json.loads(result.stdout)

    return answer


def figures(told_):
    return {row["key"]: row for row in told_["figures"]}


def test_a_reading_is_answered_with_every_figure_its_basis_and_its_uncertainty(told):
    answer = told(*READING, "--u-o2", "0.2", "--u-co", "5", "--u-stack", "2", "--u-air", "1")
    rows = figures(answer)
    assert answer["fuel"]["key"] == "natural-gas-us"
    assert rows["excess_air"]["value"] == pytest.approx(28.19, abs=0.01)
    assert rows["excess_air_simple"]["value"] == pytest.approx(31.45, abs=0.01)
    assert rows["co_air_free"]["value"] == pytest.approx(131.45, abs=0.01)
    assert rows["efficiency_net"]["heat"] == "net"
    assert rows["efficiency_gross"]["heat"] == "gross"
    assert rows["efficiency_gross"]["value"] == pytest.approx(82.0, abs=0.05)
    assert rows["loss_german"]["oxygen_pct"] == 21.0
    assert all(row["u"] > 0.0 and row["U"] == pytest.approx(2.0 * row["u"]) and row["basis"] for row in rows.values())
    assert answer["cautions"][-1].startswith("Local codes")


def test_the_table_tells_value_uncertainty_unit_and_basis_and_ends_with_the_cautions(run):
    text = run(*READING, "--u-o2", "0.2").stdout
    assert "natural gas, US-type blend" in text
    assert "U, k = 2" in text
    assert "gross heating value (HHV)" in text
    assert "Local codes and licensed practice decide" in " ".join(text.split("\n\n")[-1].split())


def test_without_uncertainty_the_table_says_so(run):
    text = run(*READING).stdout
    assert "U, k" not in text
    assert "No uncertainty was given" in text


def test_degrees_fahrenheit_go_in_and_come_out(told):
    metric = figures(told(*READING, "--u-stack", "2"))
    words = ("flue", "--fuel", "natural-gas", "--o2", "5", "--stack", "392", "--air", "68", "--co", "100")
    imperial = figures(told(*words, "--u-stack", "3.6", "--fahrenheit"))
    assert imperial["loss_net"]["value"] == pytest.approx(metric["loss_net"]["value"])
    assert imperial["loss_net"]["u"] == pytest.approx(metric["loss_net"]["u"])
    assert imperial["dew_point"]["unit"] == "degF"
    assert imperial["dew_point"]["value"] == pytest.approx(1.8 * metric["dew_point"]["value"] + 32.0)


def test_a_leak_of_unknown_size_moves_excess_air_and_leaves_co_air_free(told):
    rows = figures(told(*READING, "--u-leak", "2"))
    assert rows["excess_air"]["u"] > 1.0
    assert rows["co_air_free"]["u"] < 1e-3


def test_below_the_dew_point_the_condensing_figures_come_with_their_caution(told):
    answer = told("flue", "--fuel", "methane", "--o2", "3", "--stack", "40", "--air", "20")
    rows = figures(answer)
    assert rows["efficiency_condensing_net"]["value"] == pytest.approx(105.6, abs=0.1)
    assert rows["efficiency_condensing_gross"]["value"] == pytest.approx(95.2, abs=0.1)
    assert any("dew point" in text for text in answer["cautions"])
    assert "efficiency_condensing_net" not in figures(told(*READING))


def test_height_humidity_reference_and_radiation_change_what_they_should(told):
    plain = figures(told(*READING))
    high = figures(told(*READING, "--altitude-m", "1500"))
    assert high["dew_point"]["value"] < plain["dew_point"]["value"] - 3.0
    assert high["efficiency_net"]["value"] == plain["efficiency_net"]["value"]
    humid = figures(told(*READING, "--humidity", "60", "--pressure-hpa", "1000"))
    assert humid["dew_point"]["value"] > plain["dew_point"]["value"]
    brought = figures(told(*READING, "--reference-o2", "13"))
    assert brought["co_reference_german"]["value"] == pytest.approx(50.0)
    jacket = figures(told(*READING, "--radiation", "1.5"))
    assert jacket["efficiency_net"]["value"] == pytest.approx(plain["efficiency_net"]["value"] - 1.5)


def test_little_flue_gas_is_marked_doubtful(run, told):
    words = ("flue", "--fuel", "propane", "--o2", "16", "--co", "20")
    assert figures(told(*words))["co_air_free"]["doubtful"]
    assert "?" in run(*words).stdout


def test_every_shipped_fuel_is_listed_and_understood(run, told):
    listed = told("flue", "--list-fuels")["fuels"]
    text = run("flue", "--list-fuels").stdout
    assert len(listed) >= 9
    for fuel in listed:
        assert fuel["key"] in text
        assert figures(told("flue", "--fuel", fuel["key"], "--o2", "5"))["co2"]["value"] > 8.0


def test_a_fuel_of_your_own_is_read_from_a_file(told, tmp_path):
    file = tmp_path / "our-gas.toml"
    file.write_text("name = 'our gas'\nkind = 'gas'\nsource = 'invented'\ncomposition = { CH4 = 90.0, N2 = 10.0 }\n")
    answer = told("flue", "--fuel", str(file), "--o2", "5", "--stack", "200", "--air", "20")
    assert answer["fuel"]["name"] == "our gas"
    assert "loss_german" not in figures(answer)


LOG = """date,site,fuel,o2,co,stack,air
2026-11-02,A,natural-gas,5,100,200,20
2026-11-03,B,oil,8,,180,15
,C,,19,10,90,20
"""


@pytest.fixture
def log(tmp_path):
    def write(text):
        file = tmp_path / "log.csv"
        file.write_text(text, encoding="utf-8")
        return str(file)

    return write


def test_many_readings_come_back_with_their_own_cells_and_the_figures(run, log, told):
    result = run("flue", "--csv", log(LOG), "--fuel", "propane", "--u-o2", "0.2")
    assert result.exit_code == 0, result.output
    rows = list(csv.DictReader(io.StringIO(result.stdout)))
    assert [row["site"] for row in rows] == ["A", "B", "C"]
    alone = figures(told(*READING, "--u-o2", "0.2"))
    assert float(rows[0]["excess_air_pct"]) == pytest.approx(alone["excess_air"]["value"], rel=1e-5)
    assert float(rows[0]["u_excess_air_pct"]) == pytest.approx(alone["excess_air"]["u"], rel=1e-5)
    assert rows[0]["note"] == ""
    assert rows[1]["co_air_free_ppm"] == ""
    assert rows[1]["note"] == "CO is no reading."
    assert rows[2]["excess_air_pct"] == ""
    assert "O2 is no reading" in rows[2]["note"]


def test_many_readings_as_json(told, log):
    rows = told("flue", "--csv", log(LOG), "--fuel", "propane")["readings"]
    assert rows[0]["given"]["site"] == "A"
    assert rows[0]["figures"]["co_air_free_ppm"]["value"] == pytest.approx(131.45, abs=0.01)
    assert rows[2]["figures"]["excess_air_pct"]["value"] is None


def test_a_list_with_semicolons_commas_and_fahrenheit_is_answered_in_its_own_signs(run, log):
    result = run("flue", "--csv", log("o2;stack_f;air_f\n5,0;392;68\n"), "--fuel", "natural-gas")
    row = next(csv.DictReader(io.StringIO(result.stdout), delimiter=";"))
    assert float(row["loss_net_pct"].replace(",", ".")) == pytest.approx(9.143, abs=0.001)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "no fuel"),
        (("--fuel", "peat-bricks", "--o2", "5"), "not shipped"),
        (("--fuel", "propane"), "--o2"),
        (("--fuel", "propane", "--o2", "19"), "below 18 %"),
        (("--fuel", "propane", "--o2", "nan"), "no reading"),
        (("--fuel", "propane", "--o2", "5", "--u-o2", "-1"), "--u-o2"),
        (("--fuel", "propane", "--o2", "5", "--u-co", "5"), "without --co"),
        (("--fuel", "propane", "--o2", "5", "--u-leak", "80"), "leak"),
        (("--fuel", "propane", "--o2", "5", "--k", "0"), "--k"),
        (("--fuel", "propane", "--o2", "5", "--humidity", "50"), "--air"),
        (("--fuel", "propane", "--o2", "5", "--air", "20", "--humidity", "150"), "humidity"),
        (("--fuel", "propane", "--o2", "5", "--altitude-m", "9999"), "height"),
        (("--fuel", "propane", "--o2", "5", "--altitude-m", "100", "--pressure-hpa", "1000"), "--pressure-hpa"),
        (("--fuel", "propane", "--o2", "5", "--pressure-hpa", "300"), "air pressure"),
        (("--fuel", "propane", "--o2", "5", "--reference-o2", "21"), "reference O2"),
        (("--fuel", "propane", "--o2", "5", "--radiation", "-2"), "radiation"),
        (("--fuel", "no-such.toml", "--o2", "5"), "no-such.toml"),
        (("--fuel", "propane", "--o2", "5", "--csv", "some.csv"), "beside --csv"),
        (("--fuel", "propane", "--csv", "no-such.csv"), "no-such.csv"),
    ],
)
def test_bad_input_is_one_message_and_exit_code_2(run, words, said):
    result = run("flue", *words)
    assert result.exit_code == 2, result.output
    assert said in result.output
    assert "Traceback" not in result.output
    assert "error" in json.loads(run("flue", *words, "--json").stdout)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no readings"),
        ("o2,co\n", "no readings"),
        ("oxygen,co\n5,100\n", "no column is called o2"),
        ("o2,o2_pct\n5,5\n", "two columns"),
        ("o2,co\n5,100,7\n", "row 2"),
        ("o2,co\n5,100\nfive,100\n", "row 3, column o2"),
        ("o2,fuel\n5,peat\n", "row 2, column fuel"),
        ("o2,fuel\n5,mine.toml\n", "is a file"),
        ('o2,co\n5,"100\n', "CSV"),
    ],
)
def test_a_bad_list_is_refused_with_its_place(run, log, text, said):
    result = run("flue", "--csv", log(text), "--fuel", "propane")
    assert result.exit_code == 2, result.output
    assert said in result.output


@pytest.mark.parametrize("text", [b"\xff\xfe\x00", b"name = 'x'\nkind = 'gas'\n"])
def test_a_fuel_file_that_is_none_is_refused(run, tmp_path, text):
    file = tmp_path / "mine.toml"
    file.write_bytes(text)
    result = run("flue", "--fuel", str(file), "--o2", "5")
    assert result.exit_code == 2
    assert "Traceback" not in result.output


def test_a_list_that_is_no_text_is_refused(run, tmp_path):
    file = tmp_path / "log.csv"
    file.write_bytes(b"o2\n\xff\xfe\n")
    assert "UTF-8" in run("flue", "--csv", str(file), "--fuel", "propane").output
