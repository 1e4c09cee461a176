"""A report as a browser shows it.

Reads {"folder", "browser", "pages", "pdf"} from standard input: the folder of a report, the path of Chromium, the names of
the pages to open, and the words to look for on paper. Drives Chromium with `playwright`; `axe-core` (by
`axe-playwright-python`) looks for names that a screen reader needs and for contrast; `pypdf` reads what was printed. Writes
what was seen: of the index its rows in each order and under each filter, of each page what axe found at the width of a
screen and of a phone, of everything the requests, messages and errors.
"""

import io
import json
import pathlib
import sys

import pypdf
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

SCREEN, PHONE = {"width": 1000, "height": 800}, {"width": 360, "height": 740}

asked = json.load(sys.stdin)
folder = pathlib.Path(asked["folder"]).resolve()
requests, told, dialogs = [], [], []


def opened(browser, name, size=SCREEN):
    page = browser.new_page(viewport=size)
    page.on("request", lambda request: requests.append(request.url))
    page.on("console", lambda message: told.append(f"{name}: {message.type}: {message.text}"))
    page.on("pageerror", lambda error: told.append(f"{name}: {error}"))
    page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    page.goto((folder / name).as_uri())
    return page


def faults(page):
    """What axe finds: the rule, and the element at fault."""
    found = Axe().run(page).response["violations"]
    return [f'{one["id"]}: {node["html"][:160]}' for one in found for node in one["nodes"]]


def wider(page):
    """By how many pixels the page is wider than its window."""
    return page.evaluate("document.scrollingElement.scrollWidth - document.documentElement.clientWidth")


def rows(page):
    """The names of the loads that are shown, in order."""
    return page.locator("table.index tbody tr:visible a").all_inner_texts()


def printed(page, **paper):
    """How many pages a print takes, their size, and their text."""
    read = pypdf.PdfReader(io.BytesIO(page.pdf(**paper)))
    box = read.pages[0].mediabox
    text = " ".join(" ".join(page.extract_text() for page in read.pages).split())
    return {"pages": len(read.pages), "size": [float(box.width), float(box.height)], "text": text}


def index(browser):
    page = opened(browser, "index.html")
    seen = {"unsorted": rows(page), "faults": faults(page), "wider": wider(page), "title": page.title()}
    seen["sorted"], seen["aria"] = {}, {}
    for head in page.locator("th[data-key]").all():
        key = head.get_attribute("data-key")
        seen["sorted"][key], seen["aria"][key] = [], []
        for _ in range(2):
            # With the keyboard, as one who cannot use a mouse does.
            head.get_by_role("button").focus()
            page.keyboard.press("Enter")
            seen["sorted"][key].append(rows(page))
            seen["aria"][key].append(head.get_attribute("aria-sort"))
    seen["filtered"] = {}
    for name, label, value in asked["filters"]:
        field = page.get_by_label(label)
        if label == "Containing":
            field.fill(value)
        else:
            field.select_option(label=value)
        seen["filtered"][name] = [rows(page), page.locator("#shown").inner_text()]
        if label == "Containing":
            field.fill("")
        else:
            field.select_option(index=0)
    seen["letter"] = printed(page, format="Letter")
    # By its name as a screen reader tells it, and by a click to where it leads.
    first = page.get_by_role("table").get_by_role("link").first
    text = first.inner_text()
    first.click()
    page.wait_for_load_state()
    seen["link"] = [text, page.locator("h1").inner_text(), page.url.rsplit("/", 1)[1]]
    page.close()
    phone = opened(browser, "index.html", PHONE)
    seen["phone"] = {"faults": faults(phone), "wider": wider(phone), "rows": len(rows(phone))}
    phone.close()
    still = browser.new_context(java_script_enabled=False)
    page = still.new_page()
    page.goto((folder / "index.html").as_uri())
    seen["without script"] = [rows(page), page.locator("form:visible, th button").count()]
    still.close()
    return seen


def sheet(browser, name):
    page = opened(browser, name)
    seen = {"faults": faults(page), "wider": wider(page), "title": page.title()}
    seen["text"] = " ".join(page.locator("body").inner_text().split())
    seen["pictures"] = [one.get_attribute("viewBox") for one in page.locator("svg:visible").all()]
    seen["named"] = page.get_by_role("img").count()
    seen["boxes"] = page.get_by_role("checkbox").count()
    seen["elements"] = sorted(set(page.evaluate("[...document.querySelectorAll('body *')].map(one => one.localName)")))
    if name in asked["pdf"]:
        seen["letter"] = printed(page, format="Letter")
        seen["a4"] = printed(page, format="A4")
    page.close()
    phone = opened(browser, name, PHONE)
    pictures = phone.locator("svg:visible")
    seen["phone"] = {"faults": faults(phone), "wider": wider(phone), "pictures": pictures.count()}
    # No text of a picture is shown smaller than it was meant.
    seen["phone"]["scale"] = min([one.evaluate("one => one.getBoundingClientRect().width / one.viewBox.baseVal.width") for one in pictures.all()], default=1)
    phone.close()
    return seen


with sync_playwright() as playwright:
    # A machine that runs tests as root has no sandbox for it.
    browser = playwright.chromium.launch(executable_path=asked["browser"], args=["--no-sandbox"])
    seen = {"index": index(browser), "sheets": {name: sheet(browser, name) for name in asked["pages"]}}
    browser.close()
seen |= {"requests": sorted(set(requests)), "told": told, "dialogs": dialogs}
json.dump(seen, sys.stdout)
