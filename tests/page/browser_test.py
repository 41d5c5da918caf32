"""The page in headless Chromium: browser_test.py PROGRAM FIXTURES

Prints a line a check; the exit code is 0, 1 if any fails, 77 if there is no browser to test with.
BOTHWAYS_AXE names axe.min.js of npm's axe-core, to look for faults of accessibility with it too.
"""
import json
import os
import shutil
import sys
import traceback

import browser

CHECKS = []


def check(function):
    CHECKS.append(function)
    return function


class Case:
    def __init__(self, program, fixtures):
        self.driver = browser.start()
        self.pages = browser.Pages(program)
        demo = os.path.join(fixtures, "demo")
        pair = os.path.join(fixtures, "before-after")
        self.sides = ["--before", os.path.join(pair, "before"), "--after", os.path.join(pair, "after")]
        self.demo_arguments = [demo, "--splits", "0-30 mph, 0-50 mph"]
        self.demo = self.pages.make("demo.html", *self.demo_arguments, "--mass", "200kg")
        self.map = self.pages.make("map.html", *self.demo_arguments, "--with-map")
        self.compared = self.pages.make("compared.html", *self.sides)
        self.hostile = self.hostile_page(demo)
        self.long_names = self.pages.make("long.html", "--side", "as it was ridden all=" + self.sides[1], "--side",
                                          "with the new springs=" + self.sides[3])
        self.logbook = self.pages.make("logbook.html", pair, command=("logbook", "--page", "--no-cache"))

    def hostile_page(self, demo):
        folder = os.path.join(self.pages.folder.name, "hostile")
        os.mkdir(folder)
        name = "\"><img src=x onerror=owned()>'\u202egpj.nmea.gz"
        shutil.copy(os.path.join(demo, "mill-lane.nmea.gz"), os.path.join(folder, name))
        with open(os.path.join(folder, "conditions.ini"), "w", encoding="utf-8") as file:
            file.write("setup = </script><script>window.owned = 1</script>\nnote = </textarea><b>\"'\n")
        return self.pages.make("hostile.html", folder)

    def script(self, code, *arguments):
        return self.driver.execute_script(code, *arguments)

    def data(self):
        return json.loads(self.script("return document.getElementById('data').textContent"))

    def choose(self, start, end):
        self.script("""const set = (id, value) => {
          const element = document.getElementById(id);
          element.value = value;
          element.dispatchEvent(new Event('change'));
        };
        set('from', arguments[0]); set('to', arguments[1]);""", start, end)

    def cells(self):
        return self.script("return [...document.querySelectorAll('#chosen tbody tr')].map("
                           "row => [...row.children].map(cell => cell.textContent))")


@check
def every_page_opens_from_disk_without_a_complaint_and_its_charts_have_marks(case):
    for path in (case.demo, case.map, case.compared, case.hostile, case.logbook):
        for width, dark in ((1100, False), (390, True)):
            browser.look(case.driver, path, width, dark)
            assert browser.complaints(case.driver) == [], browser.complaints(case.driver)
            assert case.script("return document.documentElement.dataset.ready") == "yes"
            charts = case.script("""return [...document.querySelectorAll('figure[data-chart]')].map(figure => [
              figure.dataset.chart, figure.querySelectorAll('svg .mark-line path, svg .mark-rect path, '
                + 'svg .mark-symbol path, svg .mark-rule line').length])""")
            assert len(charts) >= 4, charts
            for name, marks in charts:
                assert marks >= 2, (path, name, marks)


@check
def nothing_is_fetched_and_no_foreign_script_may_run(case):
    browser.look(case.driver, case.demo)
    assert case.script("return performance.getEntriesByType('resource').length") == 0
    policy = case.script("return document.querySelector('meta[http-equiv]').content")
    assert "default-src 'none'" in policy and "unsafe" not in policy and "http" not in policy, policy
    case.script("""const script = document.createElement('script');
      script.textContent = 'window.owned = 1';
      document.body.append(script);""")
    assert case.script("return window.owned === undefined")
    fetched = case.driver.execute_async_script(
        "fetch('http://127.0.0.1:9/').then(() => arguments[0]('fetched'), () => arguments[0]('refused'))")
    assert fetched == "refused", fetched
    assert any("Content Security Policy" in text for text in browser.complaints(case.driver))


@check
def the_control_shows_the_figures_of_the_data_for_every_choice(case):
    for path in (case.demo, case.compared):
        browser.look(case.driver, path)
        data = case.data()
        assert len(data["splits"]) > 20
        for split in data["splits"]:
            case.choose(split["from"], split["to"])
            rows = case.cells()
            shown = [side["overall"][4] if side["overall"] else "" for side in split["sides"]]
            shown += [figures[4] if figures else "" for figures in split["differences"]]
            assert rows[0][1:] == shown, (split["name"], rows[0], shown)
            runs = [row for row in rows if row[0].startswith("run ")]
            for i, side in enumerate(split["sides"]):
                expected = [figures[4] if figures else "" for figures in side["runs"]]
                assert [row[1 + i] for row in runs] == expected, split["name"]


@check
def the_control_shows_what_the_command_line_writes_as_json(case):
    browser.look(case.driver, case.demo)
    for start, end, name in (("rest", "30 mph", "0-30 mph"), ("rest", "50 mph", "0-50 mph"), ("rest", "35 mph", "0-35 mph")):
        case.choose(start, end)
        asked = case.demo_arguments if name in case.demo_arguments[2] else [case.demo_arguments[0], "--splits", name]
        result = case.pages.json(*asked)
        overall = next(row for row in result["overall"] if row["name"] == name)
        value, half = case.cells()[0][1].split(" ± ")
        decimals = len(value.partition(".")[2])
        assert abs(float(value) - overall["time_s"]) <= 0.5001 * 10 ** -decimals, (value, overall)
        arm = max(overall["hi95_s"] - overall["time_s"], overall["time_s"] - overall["lo95_s"])
        assert abs(float(half) - arm) <= 0.5001 * 10 ** -decimals, (half, arm)


@check
def the_charts_follow_the_control(case):
    browser.look(case.driver, case.compared)
    lines = """return [...document.querySelectorAll('#figure-speed svg .mark-rule line')].filter(
      line => line.getAttribute('stroke-dasharray') === '2,2').map(line => [getComputedStyle(line).opacity, line.getAttribute('transform')])"""
    before = case.script(lines)
    case.choose("20 mph", "45 mph")
    after = case.script(lines)
    assert before != after, before
    assert sum(float(opacity) > 0 for opacity, _ in after) == 2, after
    pairs = case.script("return [...document.querySelectorAll('#figure-pairs svg .role-mark.mark-symbol path')].length")
    assert pairs == 6, pairs
    text = case.script("return document.querySelector('#figure-difference svg').textContent")
    assert "20-45 mph" in text


@check
def a_run_left_out_by_its_tick_shows_the_result_and_the_option(case):
    browser.look(case.driver, case.demo)
    case.script("document.querySelector('input[data-run=\"2\"]').click()")
    told = case.script("return document.getElementById('leave-out').textContent")
    assert "--leave-out \"2\"" in told, told
    other = case.pages.make("without.html", *case.demo_arguments, "--leave-out", "2")
    browser.look(case.driver, other)
    split = next(split for split in case.data()["splits"] if split["name"] == "0-30 mph")
    assert split["sides"][0]["overall"][4] in told, (told, split)


@check
def a_run_of_a_side_left_out_shows_what_would_be_said_of_the_change(case):
    browser.look(case.driver, case.compared)
    expected = case.data()["sides"][1]["without"][2]["differences"]
    case.script("document.querySelector('input[data-side=\"1\"][data-run=\"3\"]').click()")
    told = case.script("return [...document.querySelectorAll('#leave-out li')].map(item => item.textContent)")
    assert told == expected and len(told) == 4, told
    assert "--leave-out \"after:3\"" in case.script("return document.getElementById('leave-out').textContent")


@check
def hostile_names_stay_text(case):
    browser.look(case.driver, case.hostile)
    assert case.script("return window.owned === undefined && document.images.length === 0")
    head = case.script("return document.querySelector('header').textContent")
    assert "\"><img src=x onerror=owned()>'\\u202egpj.nmea.gz" in head, head
    assert "</script><script>window.owned = 1</script>" in head, head
    assert case.script("return document.querySelectorAll('script').length") == 3


@check
def without_a_map_the_page_has_no_place_and_no_time_of_day(case):
    browser.look(case.driver, case.demo)
    text = case.script("return document.documentElement.textContent.replace(/<[^]*$/, '')")
    data = case.script("return document.getElementById('data').textContent")
    for told in (text, data):
        assert "-33.19" not in told and "09:3" not in told
    assert case.script("return document.querySelector('#figure-map') === null")
    browser.look(case.driver, case.map)
    assert case.script("return document.querySelector('#figure-map svg') !== null")


@check
def it_fits_a_phone_and_turns_dark(case):
    colours = set()
    for dark in (False, True):
        for path in (case.logbook, case.demo, case.compared):
            browser.look(case.driver, path, 390, dark)
            assert case.script("return document.documentElement.scrollWidth") <= 390
            for width in case.script("return [...document.querySelectorAll('.chart svg')].map(svg => svg.clientWidth)"):
                assert width <= 390
        colours.add(case.script("return getComputedStyle(document.body).backgroundColor"))
        colours.add(case.script("return getComputedStyle(document.querySelector('#figure-speed svg .mark-line path')).stroke"))
    assert len(colours) == 4, colours
    browser.look(case.driver, case.demo, 1100, True, "print")
    assert case.script("return getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"


@check
def no_words_of_a_chart_are_cut_off_at_any_width(case):
    for width in (320, 360, 768, 1280):
        for path in (case.logbook, case.demo, case.compared, case.map, case.long_names):
            browser.look(case.driver, path, width)
            cut = case.script("""const cut = [];
              for (const svg of document.querySelectorAll('svg')) {
                const box = svg.getBoundingClientRect();
                for (const text of svg.querySelectorAll('text')) {
                  const words = text.getBoundingClientRect();
                  const out = [box.left - words.left, words.right - box.right, box.top - words.top, words.bottom - box.bottom];
                  if (words.width > 0 && Math.max(...out) > 2) cut.push(`${text.textContent}: ${out}`);
                }
              }
              return cut;""")
            assert not cut, f"{os.path.basename(path)} at {width}: {cut}"
            controls = case.script("""return [...document.querySelectorAll('#lower, #higher')]
              .map(button => button.getBoundingClientRect().top)""")
            assert len(set(controls)) < 2, f"{os.path.basename(path)} at {width}: - and + on two lines"
            wide = case.script("return document.documentElement.scrollWidth")
            assert wide <= width, f"{os.path.basename(path)} at {width}: {wide} wide"


@check
def it_can_be_used_by_keyboard_and_told_by_a_screen_reader(case):
    browser.look(case.driver, case.demo)
    assert case.script("return document.documentElement.lang") == "en"
    assert case.script("""return [...document.querySelectorAll('select, input, textarea, button')].every(element =>
      element.labels?.length || element.getAttribute('aria-label') || element.textContent.trim())""")
    assert case.script("""return [...document.querySelectorAll('.chart')].every(chart =>
      chart.getAttribute('role') === 'img' && chart.getAttribute('aria-label').length > 20)""")
    assert case.script("return [...document.querySelectorAll('table')].every(table => table.caption)")
    from selenium.webdriver.common.keys import Keys
    select = case.driver.find_element("id", "to")
    before = case.script("return document.getElementById('chosen').dataset.split")
    select.send_keys(Keys.ARROW_DOWN)
    assert case.script("return document.getElementById('chosen').dataset.split") != before


@check
def charts_can_be_saved_and_the_times_copied(case):
    browser.look(case.driver, case.demo)
    case.script("""window.saved = [];
      HTMLAnchorElement.prototype.click = function () { window.saved.push([this.download, this.href.slice(0, 5)]); };
      document.querySelectorAll('#figure-speed .save button').forEach(button => button.click());
      document.getElementById('save-csv').click();""")
    for _ in range(50):
        saved = dict(case.script("return window.saved"))
        if len(saved) == 3:
            break
        case.driver.execute_async_script("setTimeout(arguments[0], 100)")
    assert saved == {"speed.svg": "blob:", "speed.png": "data:", "bothways.csv": "blob:"}, saved
    csv = case.script("return document.getElementById('csv').value").splitlines()
    assert csv[0] == "side,what,number,direction,split,time_s,sd_s,lo95_s,hi95_s", csv[0]
    assert len(csv) == 1 + 2 * (6 + 3 + 1), len(csv)


@check
def axe_finds_no_serious_fault(case):
    path = os.environ.get("BOTHWAYS_AXE", "")
    if not path:
        print("  (not asked: BOTHWAYS_AXE names no axe.min.js)")
        return
    with open(path, encoding="utf-8") as file:
        axe = file.read()
    for page in (case.demo, case.compared, case.map, case.logbook):
        for dark in (False, True):
            browser.look(case.driver, page, 1100, dark)
            case.driver.execute_cdp_cmd("Runtime.evaluate", {"expression": axe})  # as a console would, past the policy
            faults = case.driver.execute_async_script("axe.run().then(result => arguments[0](result.violations))")
            told = [(fault["id"], fault["impact"], [node["html"][:120] for node in fault["nodes"][:3]]) for fault in faults]
            assert not [fault for fault in told if fault[1] in ("serious", "critical")], told
            for fault in told:
                print("  " + str(fault))


def main():
    case = Case(sys.argv[1], sys.argv[2])
    failed = 0
    for function in CHECKS:
        name = function.__name__.replace("_", " ")
        try:
            function(case)
            print("ok: " + name)
        except Exception as error:
            failed += 1
            line = traceback.extract_tb(error.__traceback__)[-1]
            print(f"FAILED: {name}\n  line {line.lineno}: {line.line}\n  {str(error)[:1000]}")
    case.driver.quit()
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
