// How many poles: in the dataset, by the filters, in view. Each figure says what it counts.
(function (lw) {
  "use strict";

  const { store, dom } = lw;

  /** Which rows lie in the part of the map that is seen; all where there is no map. */
  function seen() {
    const { map } = lw.map;
    if (map === null) {
      return () => true;
    }
    const b = map.getBounds();
    const [w, s, e, n] = [b.getWest(), b.getSouth(), b.getEast(), b.getNorth()];
    return (row) => {
      const at = store.place(row);
      return at !== null && at[0] >= w && at[0] <= e && at[1] >= s && at[1] <= n;
    };
  }

  function tally(rows) {
    const out = new Map();
    for (const row of rows) {
      const verdict = store.value(row, "verdict");
      out.set(verdict, (out.get(verdict) || 0) + 1);
    }
    return out;
  }

  /** What the map draws of the tiles, by verdict: counted points count for as many as they stand for. */
  function drawn() {
    const out = new Map();
    const { map } = lw.map;
    const layers = map === null ? [] : lw.map.poleLayers();
    const ids = new Set();
    for (const feature of layers.length > 0 ? map.queryRenderedFeatures({ layers }) : []) {
      const { verdict, count } = feature.properties;
      const counted = lw.poleSource.isCounted(feature);
      const key = counted ? verdict + feature.geometry.coordinates.join() : feature.id;
      if (!ids.has(key)) {
        ids.add(key);
        out.set(verdict, (out.get(verdict) || 0) + (counted ? Number(count) : 1));
      }
    }
    return out;
  }

  function sum(counts) {
    return [...counts.values()].reduce((a, b) => a + b, 0);
  }

  function all() {
    const by = store.site.counts.by_verdict;
    return new Map(Object.keys(by).map((verdict) => [verdict, by[verdict]]));
  }

  function table(columns) {
    const verdicts = lw.filters.words.verdict;
    const head = dom.element("tr", {}, [
      dom.element("th", { scope: "col", text: "Verdict" }),
      ...columns.map((c) => dom.element("th", { scope: "col", class: "number", text: c.title })),
    ]);
    const line = (label, of) =>
      dom.element("tr", {}, [
        dom.element("th", { scope: "row" }, [label]),
        ...columns.map((c) => dom.element("td", { class: "number", text: store.counted(of(c.counts)) })),
      ]);
    return dom.element("table", {}, [
      dom.element("thead", {}, [head]),
      dom.element("tbody", {}, [
        ...verdicts.map((v) => line(lw.marks.badge("verdict", v), (counts) => counts.get(v) || 0)),
        line("All", sum),
      ]),
    ]);
  }

  function embedded() {
    const rows = lw.filters.rows();
    const columns = [
      { title: "in all", counts: all() },
      { title: "filtered", counts: tally(rows) },
    ];
    const inView = lw.map.map === null ? null : tally(rows.filter(seen()));
    if (inView !== null) {
      columns.push({ title: "in view", counts: inView });
    }
    dom.fill(dom.byId("counts"), [table(columns)]);
    const view = inView === null ? "" : ", " + store.counted(sum(inView)) + " of them in view";
    return (
      store.counted(rows.length) + " of " + store.counted(store.site.counts.poles) + " poles by the filters" + view + "."
    );
  }

  /** A zoom's share of poles that the tiles hold. */
  function held() {
    const { tiles, counts } = store.site;
    const zoom = Math.max(tiles.minzoom, Math.min(tiles.maxzoom, Math.floor(lw.map.map.getZoom())));
    const pair = (tiles.shown || {})[zoom] || [counts.placed, counts.placed];
    return pair[0] < pair[1]
      ? " At this zoom the tiles show " + store.counted(pair[0]) + " of " + store.counted(pair[1]) +
          " poles, the worst first: zoom in to see all."
      : "";
  }

  function tiled() {
    if (lw.map.map === null) {
      dom.fill(dom.byId("counts"), [table([{ title: "in all", counts: all() }])]);
      return "The table holds the " + store.counted(store.count) + " worst of " + store.counted(store.poles.of) + " poles.";
    }
    const inView = drawn();
    dom.fill(dom.byId("counts"), [
      table([
        { title: "in all", counts: all() },
        { title: "drawn", counts: inView },
      ]),
    ]);
    const far = lw.filters.needsFields() && !lw.poleSource.full(lw.map.map.getZoom());
    return (
      store.counted(sum(inView)) + " poles drawn in view." + held() +
      (far ? " Far out the map filters by verdict alone; the other filters begin at zoom " + lw.poleSource.FULL_ZOOM + "." : "")
    );
  }

  function show() {
    dom.byId("shown").textContent = store.tiled ? tiled() : embedded();
  }

  /** Counts now and whenever something changes. */
  function start() {
    const soon = dom.settled(show, 60);
    for (const event of ["filters", "view", "theme"]) {
      lw.on(event, soon);
    }
    if (store.tiled) {
      lw.on("drawn", soon);
    }
    show();
  }

  lw.counts = { start, seen };
})((window.Linewood = window.Linewood || {}));
