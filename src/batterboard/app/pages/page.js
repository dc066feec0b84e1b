// Sets what /sight.json says, and sets it anew when /events tells of a new one. Texts go in as text, never as markup.

const at = (id) => document.getElementById(id);
const FIRST = 12; // checks that hold are folded away after so many
const SVG = "http://www.w3.org/2000/svg";

let sight = { id: "", file: "", problems: [], page: null };
let before = new Map(); // what each check said in the last good plan but one
let chosen = ""; // the sheet that is shown, by name
const unfolded = new Set(); // lists and cautions that somebody opened
let asked = false, again = false;

function make(tag, attributes = {}, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...inside.filter((part) => part !== "" && part != null));
  return element;
}

// ---- following the file ----

async function refresh() {
  if (asked) { again = true; return; }
  asked = true;
  let next = null;
  do {
    again = false;
    next = await fetch("/sight.json").then((answer) => (answer.ok ? answer.json() : null)).catch(() => null);
  } while (again);
  asked = false;
  if (next) take(next); else lost();
}

function take(next) {
  if (next.id === sight.id) { live(); return; }
  const first = !sight.id;
  if (sight.page && next.page && next.page.hash !== sight.page.hash) {
    before = new Map(sight.page.checks.map((check) => [check.key, check.comparison]));
  }
  sight = next;
  document.title = `${sight.page?.name ?? sight.file} · Batterboard`;
  at("job").replaceChildren(make("code", {}, sight.file));
  showProblems();
  if (sight.page) showPage();
  live(first ? "Read" : "Read again");
}

function live(what) {
  at("live").classList.remove("lost");
  if (what) at("live").dataset.said = `${what} at ${new Date().toLocaleTimeString()}.`;
  const said = at("live").dataset.said ?? "";
  at("live").textContent = `${said} The page follows the file as it is saved.`;
}

function lost() {
  at("live").classList.add("lost");
  at("live").textContent = "No longer followed: batterboard open has ended. What stands here may be old.";
}

// ---- the page, part by part ----

function showProblems() {
  const { problems, page } = sight;
  at("problems").hidden = !problems.length;
  at("page").classList.toggle("stale", problems.length > 0);
  at("kept").textContent = page ? `What stands below is the last good plan, job ${page.hash}.` : "";
  at("problems").querySelector("ol").replaceChildren(...problems.map(({ place, key, problem, remedy }) =>
    make("li", {},
      make("code", { class: "place" }, place), " ", key && make("code", {}, key), key && ": ", problem,
      remedy && make("span", { class: "remedy" }, remedy))));
}

function showPage() {
  const { page } = sight;
  at("page").hidden = false;
  at("name").textContent = page.name;
  at("job").append(", job ", make("code", {}, page.hash));
  if (page.replaces) at("job").append(", replaces ", make("code", {}, page.replaces));
  at("note").textContent = page.note;
  at("tally").textContent = page.tally;
  at("found").replaceChildren(...page.found.map((said) => make("li", {}, said)));
  at("built").replaceChildren(...page.built.map(rowOf));
  showChecks();
  showSheets();
  at("steps").querySelector(".steps").replaceChildren(...page.steps.map(stepOf));
  at("assumed").querySelector("dl").replaceChildren(...page.assumed.map(({ meaning, value, keys }) =>
    make("div", {}, make("dt", {}, meaning, make("small", {}, keys.join(", "))), make("dd", {}, value))));
  at("mind").querySelector("ul").replaceChildren(...page.always.map((said) => make("li", {}, said)));
  at("codes").textContent = `Codes named by the job: ${page.codes}.`;
}

function showChecks() {
  const rows = at("checks").querySelector(".rows");
  const open = new Set([...rows.querySelectorAll("details[open]")].map((row) => row.dataset.key));
  const focused = document.activeElement?.closest?.("#checks details")?.dataset.key;
  const seen = [], rest = [];
  sight.page.checks.forEach((check, number) => {
    const shown = number < FIRST || check.kind !== "holds" || changed(check);
    (shown ? seen : rest).push(checkOf(check, number));
  });
  rows.replaceChildren(...seen, ...restOf(rest));
  for (const row of rows.querySelectorAll("details")) {
    row.open = open.has(row.dataset.key);
    if (row.dataset.key === focused) row.querySelector("summary").focus({ preventScroll: true });
  }
}

function restOf(rows) {
  if (!rows.length) return [];
  const rest = make("details", { class: "rest" }, make("summary", {}, `${rows.length} more, which hold`), ...rows);
  rest.dataset.key = "the rest";
  return [rest];
}

// What it said before, where it says something else now.
function changed({ key, comparison }) {
  const was = before.get(key);
  return was !== comparison && was;
}

function checkOf(check, number) {
  const was = changed(check);
  const mark = { holds: "✓", fails: "✗", outside: "?" }[check.kind];
  const inside = make("div", { class: "inside" });
  const row = make("details", { class: `check ${check.kind}` },
    make("summary", {},
      make("span", {},
        make("span", { class: "title" }, check.title),
        make("span", { class: "values" }, `${check.demand} of ${check.capacity}`),
        was && make("span", { class: "values was" }, `before the last change: ${was}`)),
      make("span", { class: "verdict" }, make("span", {}, `${mark} ${check.verdict}`), string(check.ratio))),
    inside);
  row.dataset.key = check.key;
  row.addEventListener("toggle", () => row.open && showWorking(check, number, inside), { once: true });
  return row;
}

// The string with its knot: the stake is what may be, the knot is what is.
function string(ratio) {
  if (ratio === null) return "";
  const drawn = document.createElementNS(SVG, "svg");
  drawn.setAttribute("viewBox", "0 0 130 20");
  drawn.setAttribute("aria-hidden", "true");
  const part = (tag, attributes) => {
    const element = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    drawn.append(element);
  };
  const over = ratio > 1;
  part("path", { d: "M0 10H130", stroke: "#24608c", "stroke-width": 1.5 });
  part("path", { d: "M100 1V19", stroke: "#2b2a28", "stroke-width": 4 });
  part("circle", { cx: Math.min(ratio, 1.26) * 100, cy: 10, r: 5, fill: over ? "#b0261c" : "#fbf8f1", stroke: over ? "#b0261c" : "#24608c", "stroke-width": 2.5 });
  return drawn;
}

async function showWorking(check, number, inside) {
  const said = [
    check.case && `governing case: ${check.case}`,
    `${check.clause} (${check.remark})`,
    check.note,
  ].filter(Boolean).map((text) => make("p", { class: "soft" }, text));
  inside.replaceChildren(...said);
  const answer = await fetch(`/working/${sight.id}/${number}`).catch(() => null);
  if (!answer?.ok) return; // a newer sight is on its way, or nobody answers any more
  inside.replaceChildren(...said, ...(await answer.json()).map(formulaOf));
}

function formulaOf({ number, name, says, source, remark, outside, lines }) {
  return make("div", { class: outside.length ? "formula broken" : "formula" },
    make("div", {}, `(${number}) `, make("code", {}, name), `: ${says}. `, make("span", { class: "soft" }, `${source} (${remark})`)),
    ...outside.map((limit) => make("div", { class: "outside" }, `outside its limits: not ${limit}`)),
    ...lines.map(([left, parts]) => make("div", { class: "line" },
      make("b", {}, left), make("div", {}, ...parts.map((part) => make("span", {}, part))))));
}

function showSheets(step = 0) {
  const { drawings } = sight.page;
  at("drawings").hidden = !drawings.length;
  if (!drawings.length) return;
  const known = Math.max(0, drawings.findIndex(({ name }) => name === chosen));
  const number = (known + step + drawings.length) % drawings.length;
  const { name, svg } = drawings[number];
  chosen = name;
  at("which").replaceChildren(...drawings.map((sheet, i) => make("option", { value: sheet.name }, `${i + 1}  ${sheet.name}`)));
  at("which").value = name;
  if (at("sheet").dataset.drawn === svg) return;
  at("sheet").dataset.drawn = svg;
  at("sheet").replaceChildren(drawn(svg));
  if (at("large").open) at("large").querySelector("div").replaceChildren(drawn(svg));
}

function drawn(text) {
  const plain = text.replace(/<style>.*?<\/style>/s, ""); // the page's own style says how it prints
  return document.importNode(new DOMParser().parseFromString(plain, "image/svg+xml").documentElement, true);
}

function stepOf({ title, question, numbers, tables, cautions, unchecked }, index) {
  return make("div", { class: "step" },
    make("h3", {}, make("span", {}, `${index + 1}`), title),
    make("p", {}, question),
    make("dl", {}, ...numbers.map(rowOf)),
    tables.length ? folded(`${title}, lists`, "Lists", tables.flatMap(tableOf)) : "",
    folded(`${title}, mind`, "Mind, and what was not checked", [make("ul", {},
      ...cautions.map((said) => make("li", {}, said)),
      ...unchecked.map((said) => make("li", { class: "soft" }, `not checked: ${said}`)))]));
}

function rowOf([what, value]) {
  return make("div", {}, make("dt", {}, what), make("dd", {}, value));
}

function tableOf({ title, note, headings, rows, numeric }) {
  const cell = (tag) => (text, i) => make(tag, numeric[i] ? { class: "number" } : {}, text);
  return [
    make("h4", {}, title),
    make("div", { class: "wide", tabindex: "0", role: "region", "aria-label": title }, make("table", {},
      make("thead", {}, make("tr", {}, ...headings.map(cell("th")))),
      make("tbody", {}, ...rows.map((row) => make("tr", {}, ...row.map(cell("td"))))))),
    note ? make("p", { class: "soft" }, note) : "",
  ];
}

function folded(key, title, inside) {
  const details = make("details", {}, make("summary", {}, title), ...inside);
  details.dataset.key = key;
  details.open = unfolded.has(key);
  details.addEventListener("toggle", () => (details.open ? unfolded.add(key) : unfolded.delete(key)));
  return details;
}

// ---- begin ----

at("which").addEventListener("change", () => { chosen = at("which").value; showSheets(); });
at("back").addEventListener("click", () => showSheets(-1));
at("on").addEventListener("click", () => showSheets(+1));
at("sheet").addEventListener("click", () => {
  at("large").querySelector("div").replaceChildren(drawn(at("sheet").dataset.drawn));
  at("large").showModal();
});
at("close").addEventListener("click", () => at("large").close());

const events = new EventSource("/events");
events.addEventListener("sight", refresh);
events.addEventListener("error", lost); // the browser tries again by itself, and says which sight it saw last
events.addEventListener("open", refresh);
