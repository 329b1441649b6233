// The tables of a job as plain inputs: one tab a file, a grid for a table, a text field for words.
function element(name, attributes, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes || {})) {
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else made.setAttribute(key, value);
  }
  made.append(...children);
  return made;
}

const isComment = (row) => row.length > 0 && row[0].startsWith("# ");

function render({ model, el }) {
  let files = [];
  let shown = 0;
  let asked = { read: true }; // what the last answer is to
  const changed = new Set();

  const tabs = element("div", { class: "cutopt-tabs", role: "tablist" });
  const place = element("div", { class: "cutopt-place" });
  const save = element("button", { class: "cutopt-save", onclick: send }, "Save");
  const again = element("button", { onclick: () => ask({ read: true }) }, "Read again");
  const said = element("div", { class: "cutopt-said", role: "status" });
  const mistakes = element("ul", { class: "cutopt-mistakes" });
  el.classList.add("cutopt-tables");
  el.append(tabs, place, element("div", { class: "cutopt-buttons" }, save, again), said, mistakes);

  function touch(file) {
    changed.add(file.file);
    drawTabs();
  }

  function send() {
    const told = {};
    for (const file of files) if (changed.has(file.file)) told[file.file] = file.text ?? file.rows;
    changed.clear(); // what is typed from now on is new
    drawTabs();
    ask({ save: told });
  }

  function ask(request) {
    asked = request;
    model.send(request);
  }

  function drawTabs() {
    tabs.replaceChildren(...files.map((file, index) => element("button", {
      role: "tab", "aria-selected": String(index === shown), class: index === shown ? "cutopt-open" : "",
      onclick: () => { shown = index; draw(); },
    }, file.file + (changed.has(file.file) ? " *" : ""))));
    save.disabled = changed.size === 0;
  }

  function draw() {
    drawTabs();
    const file = files[shown];
    if (!file) return place.replaceChildren("This folder has no tables yet.");
    place.replaceChildren(element("p", {}, file.help), file.rows ? grid(file) : words(file));
  }

  function words(file) {
    const rows = Math.min(30, Math.max(6, file.text.split("\n").length + 2));
    const area = element("textarea", { rows, spellcheck: "false", "aria-label": file.file });
    area.value = file.text;
    area.addEventListener("input", () => { file.text = area.value; touch(file); });
    return area;
  }

  function grid(file) {
    const head = file.rows.findIndex((row) => !isComment(row) && row.some((cell) => cell.trim()));
    if (head < 0) {
      file.rows.push([...file.columns]);
      return grid(file);
    }
    const header = file.rows[head];
    const table = element("table", {});
    const titles = header.map((title) => element("th", { scope: "col" }, title));
    table.append(element("thead", {}, element("tr", {}, ...titles, element("th", {}, ""))));
    const body = element("tbody", {});
    file.rows.forEach((row, index) => { if (index !== head) body.append(line(file, row, header)); });
    table.append(body);
    const add = element("button", { onclick: () => {
      file.rows.push(header.map(() => ""));
      touch(file);
      draw();
      place.querySelector("tbody tr:last-child input")?.focus();
    } }, "Add a row");
    const missing = file.columns.filter((name) => !header.some((title) => title.trim().toLowerCase() === name));
    const more = element("select", { "aria-label": "add a column", onchange: (event) => {
      header.push(event.target.value);
      touch(file);
      draw();
    } }, element("option", { value: "" }, "Add a column"), ...missing.map((name) => element("option", { value: name }, name)));
    const under = missing.length ? [add, more] : [add];
    return element("div", { class: "cutopt-grid" }, table, element("div", { class: "cutopt-under" }, ...under));
  }

  function line(file, row, header) {
    const remove = element("button", { title: "take this row out", "aria-label": "take this row out", onclick: () => {
      file.rows.splice(file.rows.indexOf(row), 1);
      touch(file);
      draw();
    } }, "×");
    if (isComment(row)) {
      const cell = element("td", { colspan: header.length, class: "cutopt-comment" }, row[0]);
      return element("tr", {}, cell, element("td", {}, remove));
    }
    while (row.length < header.length) row.push("");
    const cells = row.map((text, column) => {
      const size = Math.min(34, Math.max(6, text.length + 1));
      const input = element("input", { value: text, size, spellcheck: "false", "aria-label": header[column] || "no title" });
      input.addEventListener("input", () => { row[column] = input.value; touch(file); });
      input.addEventListener("paste", (event) => pasted(event, file, row, column));
      return element("td", {}, input);
    });
    return element("tr", {}, ...cells, element("td", {}, remove));
  }

  // Cells copied from a spreadsheet: tabs between cells, ends of lines between rows.
  function pasted(event, file, row, column) {
    const text = event.clipboardData.getData("text");
    if (!/[\t\n]/.test(text.trim())) return;
    event.preventDefault();
    let at = file.rows.indexOf(row);
    for (const pastedLine of text.replace(/\r/g, "").replace(/\n$/, "").split("\n")) {
      while (at < file.rows.length && isComment(file.rows[at])) at += 1;
      if (at === file.rows.length) file.rows.push([]);
      const target = file.rows[at];
      pastedLine.split("\t").forEach((cell, offset) => {
        while (target.length <= column + offset) target.push("");
        target[column + offset] = cell;
      });
      at += 1;
    }
    touch(file);
    draw();
  }

  function takeFiles() {
    const open = files[shown]?.file;
    files = structuredClone(model.get("files"));
    shown = Math.max(0, files.findIndex((file) => file.file === open));
    changed.clear();
    draw();
  }

  function tell() {
    const wrong = model.get("mistakes");
    said.textContent = model.get("said");
    said.classList.toggle("cutopt-wrong", wrong.length > 0);
    mistakes.replaceChildren(...wrong.map((sentence) => element("li", {}, sentence)));
  }

  function answered() {
    tell();
    if (asked.read) return takeFiles();
    if (!model.get("saved")) Object.keys(asked.save).forEach((name) => changed.add(name));
    drawTabs();
  }

  model.on("change:said", tell);
  model.on("change:mistakes", tell);
  model.on("change:answer", answered);
  takeFiles();
  tell();
}

export default { render };
