// The record of the selected pole: verdict with reasons in words, drawing, links, every field.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;
  /** Where the focus goes back to when the record is closed. */
  let fromTable = false;

  /** A field of the selected pole, from the table or from the tile it was clicked in. */
  function valueOf(pole, field) {
    if (pole.row !== null) {
      return store.value(pole.row, field);
    }
    const from = pole.properties || { pole_id: pole.id, verdict: pole.verdict };
    return from[field] === undefined ? null : from[field];
  }

  /** Are its fields known, or only what the search index says? */
  function isRead(pole) {
    return pole.row !== null || pole.properties !== null;
  }

  function paths(pole) {
    const of = (name) => (pole.row !== null && store.poles[name] ? store.poles[name][pole.row] : null);
    return { worksheet: of("worksheet"), section: of("section"), project: of("project") };
  }

  function heading(pole) {
    return dom.element("div", { class: "record-head" }, [
      dom.element("h2", {}, ["Pole ", dom.element("bdi", { text: store.idShown(pole.id) })]),
      dom.element("button", {
        type: "button",
        text: "Close",
        onclick: () => {
          const row = pole.row;
          lw.selectRow(null);
          const inTable = row === null ? null : document.querySelector('#table [data-row="' + row + '"]');
          (fromTable && inTable ? inTable : dom.byId("search-id")).focus();
        },
      }),
    ]);
  }

  function verdictPart(pole) {
    const badges = [lw.marks.badge("verdict", valueOf(pole, "verdict"))];
    const urgency = valueOf(pole, "urgency");
    if (urgency !== null) {
      badges.push(lw.marks.badge("urgency", urgency));
    }
    const strength = valueOf(pole, "remaining_pct");
    const limit = store.site.strength_limit_pct;
    const words =
      (strength === null ? "No figure of remaining strength" : "Remaining strength " + store.shown(strength) + "\u00a0%") +
      (typeof limit === "number" ? " (limit " + store.shown(limit) + "\u00a0%)" : "");
    return dom.element("div", { class: "verdict-part" }, [
      dom.element("p", { class: "badges" }, badges),
      ...(isRead(pole) ? [dom.element("p", { text: words })] : []),
    ]);
  }

  function reasonsPart(pole) {
    const items = store.reasonWords(valueOf(pole, "reasons")).map((words) => dom.element("li", { text: words }));
    if (items.length === 0) {
      return [];
    }
    return [dom.element("h3", { text: "Why" }), dom.element("ul", { class: "reasons" }, items)];
  }

  function drawingPart(pole, path) {
    const safe = dom.safePath(path);
    if (safe === null) {
      return [];
    }
    return [
      dom.element("figure", {}, [
        dom.element("img", { src: safe, alt: "Drawing of the worst section of pole " + store.idShown(pole.id) }),
        dom.element("figcaption", {}, ["The worst section, north up. ", dom.link(safe, "Drawing in full size")]),
      ]),
    ];
  }

  function linksPart(found) {
    const links = [];
    if (dom.safePath(found.worksheet)) {
      links.push(dom.link(found.worksheet, "Worksheet: how each figure came about"));
    }
    if (dom.safePath(found.project)) {
      links.push(dom.link(found.project, "Sheet of its project"));
    }
    return links.length === 0 ? [] : [dom.element("ul", { class: "links" }, links.map((l) => dom.element("li", {}, [l])))];
  }

  function shownWithUnit(field, value) {
    const text = store.shown(value);
    return field.unit && value !== null ? text + " " + field.unit : text;
  }

  function fieldsPart(pole) {
    if (!isRead(pole)) {
      const text =
        pole.place === null
          ? "Its fields are in the downloads."
          : "Its fields are read from the map's tiles once the map shows it from near; they are in the downloads too.";
      return [dom.element("p", { class: "said", text })];
    }
    const rows = store.site.fields.map((field) => {
      const value = valueOf(pole, field.name);
      return dom.element("tr", { title: field.meaning || null, class: value === null ? "absent" : null }, [
        dom.element("th", { scope: "row", text: store.titleOf(field) }),
        dom.element("td", {}, [dom.element("bdi", { text: shownWithUnit(field, value) })]),
      ]);
    });
    return [
      dom.element("h3", { text: "All fields" }),
      dom.element("table", { class: "facts" }, [dom.element("tbody", {}, rows)]),
      dom.element("p", {}, [dom.link("fields.html", "What each field means")]),
    ];
  }

  function fill(panel, pole) {
    const found = paths(pole);
    const where = store.tiled ? "in the downloads." : "in the table and the downloads.";
    const noPlace =
      pole.place === null
        ? [dom.element("p", { class: "said", text: "The dataset gives this pole no place: it is not on the map, but " + where })]
        : [];
    dom.fill(panel, [
      heading(pole),
      verdictPart(pole),
      ...noPlace,
      ...reasonsPart(pole),
      ...linksPart(found),
      ...drawingPart(pole, found.section),
      ...fieldsPart(pole),
    ]);
  }

  function show() {
    const panel = dom.byId("record");
    const pole = state.selected;
    fromTable = pole === null ? fromTable : lw.table.chosen();
    panel.hidden = pole === null;
    dom.byId("main").classList.toggle("with-record", pole !== null);
    if (lw.map.map !== null) {
      lw.map.map.resize();
    }
    if (pole === null) {
      dom.fill(panel, []);
      return;
    }
    fill(panel, pole);
    panel.scrollTop = 0;
    panel.focus({ preventScroll: true });
    const narrow = window.matchMedia("(max-width: 900px)").matches;
    if (narrow || panel.getBoundingClientRect().top < 0) {
      (narrow ? panel : dom.byId("main")).scrollIntoView({ block: "start" });
    }
  }

  function start() {
    lw.on("selected", show);
    lw.on("completed", () => fill(dom.byId("record"), state.selected));
    if (state.selected !== null) {
      show();
    }
  }

  lw.record = { start };
})((window.Linewood = window.Linewood || {}));
