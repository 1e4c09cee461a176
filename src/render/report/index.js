"use strict";
(() => {
  const form = document.getElementById("narrow");
  if (!form) return;
  const body = document.querySelector("table.index tbody");
  const rows = [...body.rows].map((row, at) => ({
    row, at,
    text: row.textContent.toLowerCase(),
    name: row.querySelector("a").textContent,
    verdict: Number(row.dataset.verdict),
    // A margin that is not known stands last, whichever way round.
    margin: row.dataset.margin === undefined ? NaN : Number(row.dataset.margin),
    findings: -Number(row.dataset.findings),
    rules: new Set([...row.querySelectorAll(".rule")].map((rule) => rule.textContent)),
  }));
  const [text, verdict, rule, shown] = ["text", "verdict", "rule", "shown"].map((id) => document.getElementById(id));

  const narrow = () => {
    const words = text.value.toLowerCase().split(/\s+/).filter(Boolean);
    let left = 0;
    for (const one of rows) {
      const fits = words.every((word) => one.text.includes(word)) &&
        (verdict.value === "" || one.verdict === Number(verdict.value)) &&
        (rule.value === "" || one.rules.has(rule.value));
      one.row.hidden = !fits;
      left += fits;
    }
    const chosen = [text.value, verdict.selectedIndex && verdict.selectedOptions[0].text, rule.value].filter(Boolean);
    shown.textContent = `${left} of ${rows.length} shown` + (chosen.length ? `: ${chosen.join(", ")}` : "");
    // Paper says what was left out.
    form.classList.toggle("whole", left === rows.length);
  };

  const names = new Intl.Collator("en", { numeric: true });
  const by = {
    text: (a, b) => names.compare(a.name, b.name),
    verdict: (a, b) => a.verdict - b.verdict,
    margin: (a, b) => a.margin - b.margin,
    findings: (a, b) => a.findings - b.findings,
  };
  const heads = [...document.querySelectorAll("th[data-key]")];
  const sort = (head) => {
    const key = head.dataset.key;
    const down = head.getAttribute("aria-sort") === "ascending";
    for (const other of heads) other.removeAttribute("aria-sort");
    head.setAttribute("aria-sort", down ? "descending" : "ascending");
    const known = rows.filter((one) => key !== "margin" || !Number.isNaN(one.margin));
    const rest = rows.filter((one) => key === "margin" && Number.isNaN(one.margin));
    known.sort((a, b) => (down ? by[key](b, a) : by[key](a, b)) || a.at - b.at);
    body.append(...[...known, ...rest].map((one) => one.row));
  };
  for (const head of heads) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = head.textContent;
    button.addEventListener("click", () => sort(head));
    // On paper the head of a column is no button: a browser leaves buttons out where it repeats the head on the next page.
    const word = document.createElement("span");
    word.className = "paper";
    word.textContent = head.textContent;
    head.replaceChildren(button, word);
  }

  for (const field of [text, verdict, rule]) field.addEventListener("input", narrow);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.hidden = false;
  narrow();
  // A browser that goes back fills the fields again.
  addEventListener("pageshow", narrow);
})();
