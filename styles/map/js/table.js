// The table of the poles: sorted, in pages, without the map and by keyboard.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;
  const byText = (a, b) => String(a).localeCompare(String(b), "en", { numeric: true });
  const byOrder = (order) => (a, b) => place(order, a) - place(order, b) || byText(a, b);
  const byNumber = (a, b) => a - b;

  const COLUMNS = [
    { field: "pole_id", title: "Pole", order: byText },
    { field: "verdict", title: "Verdict", order: byOrder(store.SEVERITY) },
    { field: "urgency", title: "Urgency", order: byOrder(store.URGENCY) },
    { field: "remaining_pct", title: "Strength, %", order: byNumber, number: true },
    { field: "circuit", title: "Circuit", order: byText },
    { field: "inspected_on", title: "Inspected", order: byText },
    { field: "reasons", title: "Why", order: byText },
  ].filter((c) => c.field === "pole_id" || store.site === null || store.site.fields.some((f) => f.name === c.field));

  const shown = { column: COLUMNS[1], down: false, page: 0, size: 25, inView: false };
  let rows = [];

  function place(order, word) {
    const at = order.indexOf(word);
    return at < 0 ? order.length : at;
  }

  /** Orders rows by a column; what is not recorded comes last either way. */
  function sort() {
    const { field, order } = shown.column;
    const sign = shown.down ? -1 : 1;
    const keyed = rows.map((row) => ({ row, key: store.value(row, field) }));
    keyed.sort((a, b) => {
      if (a.key === null || b.key === null) {
        return (a.key === null ? 1 : 0) - (b.key === null ? 1 : 0) || a.row - b.row;
      }
      return sign * order(a.key, b.key) || a.row - b.row;
    });
    rows = keyed.map((k) => k.row);
  }

  function gather() {
    rows = lw.filters.rows();
    if (shown.inView) {
      rows = rows.filter(lw.counts.seen());
    }
    sort();
    shown.page = Math.min(shown.page, Math.max(0, Math.ceil(rows.length / shown.size) - 1));
  }

  function headCell(column) {
    const now = column === shown.column;
    const sorted = now ? (shown.down ? "descending" : "ascending") : "none";
    const arrow = now ? (shown.down ? " ▼" : " ▲") : "";
    return dom.element("th", { scope: "col", "aria-sort": sorted, class: column.number ? "number" : null }, [
      dom.element(
        "button",
        {
          type: "button",
          class: "sort",
          "data-column": column.field,
          onclick: () => {
            shown.down = now ? !shown.down : false;
            shown.column = column;
            shown.page = 0;
            refresh();
            document.querySelector('#table [data-column="' + column.field + '"]').focus();
          },
        },
        [column.title, dom.element("span", { "aria-hidden": "true", text: arrow })],
      ),
    ]);
  }

  function cellContent(column, row) {
    const value = store.value(row, column.field);
    if (column.field === "pole_id") {
      const button = dom.element("button", { type: "button", class: "plain", "data-row": row, onclick: () => select(row) }, [
        dom.element("bdi", { text: store.idShown(value) }),
      ]);
      return button;
    }
    if (column.field === "verdict" || (column.field === "urgency" && value !== null)) {
      return lw.marks.badge(column.field, value);
    }
    if (column.field === "reasons") {
      return dom.element("span", { text: store.reasonWords(value).join(". ") });
    }
    if (value === null) {
      return dom.element("span", { class: "absent", text: "–", title: "not recorded" });
    }
    return dom.element("bdi", { text: column.number ? value.toFixed(1) : String(value) });
  }

  let choosing = false;

  function select(row) {
    choosing = true;
    lw.selectRow(row, { move: true });
    choosing = false;
  }

  function line(row) {
    const chosen = state.selected !== null && state.selected.row === row;
    return dom.element(
      "tr",
      { class: chosen ? "chosen" : null },
      COLUMNS.map((column, i) => {
        const content = cellContent(column, row);
        if (i === 0 && chosen) {
          content.setAttribute("aria-current", "true");
        }
        return dom.element(i === 0 ? "th" : "td", { scope: i === 0 ? "row" : null, class: column.number ? "number" : null }, [
          content,
        ]);
      }),
    );
  }

  function pager() {
    const pages = Math.max(1, Math.ceil(rows.length / shown.size));
    const go = (id, text, page) =>
      dom.element("button", {
        type: "button",
        id,
        text,
        "aria-disabled": page < 0 || page >= pages || page === shown.page ? "true" : null,
        onclick: () => {
          if (page >= 0 && page < pages) {
            shown.page = page;
            draw();
            dom.byId(id).focus();
          }
        },
      });
    const from = rows.length === 0 ? 0 : shown.page * shown.size + 1;
    const to = Math.min(rows.length, (shown.page + 1) * shown.size);
    const words = "Rows " + store.counted(from) + " to " + store.counted(to) + " of " + store.counted(rows.length);
    return [
      go("page-first", "First", 0),
      go("page-back", "Back", shown.page - 1),
      dom.element("span", { role: "status", text: words }),
      go("page-next", "Next", shown.page + 1),
      go("page-last", "Last", pages - 1),
    ];
  }

  function draw() {
    const some = rows.slice(shown.page * shown.size, (shown.page + 1) * shown.size);
    dom.fill(dom.byId("table"), [
      dom.element("thead", {}, [dom.element("tr", {}, COLUMNS.map(headCell))]),
      dom.element("tbody", {}, some.map(line)),
    ]);
    dom.byId("table-said").textContent = caption();
    dom.fill(dom.byId("pager"), pager());
  }

  function caption() {
    const what = store.poles.of > store.count
      ? "The " + store.counted(store.count) + " worst of " + store.counted(store.poles.of) + " poles, as filtered"
      : "The poles as filtered";
    return what + (shown.inView ? ", in view" : "") + ". A pole's button selects it; a column's button sorts.";
  }

  function refresh() {
    gather();
    draw();
  }

  /** Turns to the page that the selected pole is on; the focus stays where it was. */
  function followSelection() {
    const row = state.selected === null ? null : state.selected.row;
    const at = row === null ? -1 : rows.indexOf(row);
    if (at >= 0) {
      shown.page = Math.floor(at / shown.size);
    }
    draw();
  }

  function tools() {
    const inView = dom.element("input", {
      type: "checkbox",
      onchange: (e) => {
        shown.inView = e.target.checked;
        shown.page = 0;
        refresh();
      },
    });
    const size = dom.element(
      "select",
      {
        onchange: (e) => {
          shown.size = Number(e.target.value);
          shown.page = 0;
          refresh();
        },
      },
      [25, 50, 100, 500].map((n) => dom.element("option", { value: n, text: String(n) })),
    );
    return [
      ...(lw.map.map === null ? [] : [dom.element("label", { class: "tick" }, [inView, "Only poles in view"])]),
      dom.element("label", {}, ["Rows a page ", size]),
    ];
  }

  function start() {
    dom.fill(dom.byId("table-tools"), tools());
    lw.on("filters", () => {
      shown.page = 0;
      refresh();
    });
    lw.on("selected", followSelection);
    lw.on("view", dom.settled(() => shown.inView && refresh(), 120));
    dom.byId("poles").hidden = false;
    gather();
    followSelection();
  }

  lw.table = { start, chosen: () => choosing };
})((window.Linewood = window.Linewood || {}));
