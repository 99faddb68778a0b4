// The view as the part of the address behind `#`, so that it can be sent on. What is not understood is passed over.
(function (lw) {
  "use strict";

  const { store, state } = lw;
  const { filters, words, years } = lw.filters;
  const THEMES = ["verdict", "urgency", "strength"];
  /** Stands for "nothing recorded" in a list of words. */
  const ABSENT = "-";
  let written = null;

  function listed(set) {
    return [...set].map((w) => (w === null ? ABSENT : encodeURIComponent(w).replace(/^-$/, "%2D"))).join(",");
  }

  function unlisted(text, known) {
    if (text === null) {
      return null;
    }
    const out = new Set();
    for (const part of text.split(",").slice(0, 10000)) {
      const word = part === ABSENT ? null : safely(() => decodeURIComponent(part));
      const same = known.find((k) => (k === null ? word === null : String(k) === word));
      if (same !== undefined) {
        out.add(same);
      }
    }
    return out;
  }

  function safely(run) {
    try {
      return run();
    } catch (_) {
      return undefined;
    }
  }

  function numbers(text, how_many) {
    const out = (text || "").split("_").map((t) => (/^-?\d{1,7}(\.\d{1,12})?$/.test(t) ? Number(t) : NaN));
    return out.length === how_many && out.every(Number.isFinite) ? out : null;
  }

  function range(text, low, high) {
    const r = numbers(text, 2);
    return r !== null && r[0] <= r[1] && r[1] >= low && r[0] <= high ? r : null;
  }

  /**
   * The state as text.
   * @returns {string} without `#`
   */
  function toText() {
    const parts = new URLSearchParams();
    for (const field of ["verdict", "urgency", "circuit"]) {
      if (filters[field] !== null) {
        parts.set(field, listed(filters[field]));
      }
    }
    if (filters.strength !== null) {
      parts.set("strength", filters.strength.join("_"));
      parts.set("strength0", filters.strengthAbsent ? "1" : "0");
    }
    if (filters.year !== null) {
      parts.set("year", filters.year.join("_"));
      parts.set("year0", filters.yearAbsent ? "1" : "0");
      parts.set("later", filters.yearLater ? "1" : "0");
    }
    if (state.theme !== "verdict") {
      parts.set("colour", state.theme);
    }
    parts.set("layers", [...state.layers].sort().join(","));
    if (state.position) {
      const { lon, lat, zoom } = state.position;
      parts.set("at", [lon.toFixed(5), lat.toFixed(5), zoom.toFixed(2)].join("_"));
    }
    if (state.selected && state.selected.id !== null) {
      parts.set("pole", String(state.selected.id));
      const same = state.selected.row === null ? [] : store.rowsOf(state.selected.id);
      if (store.tiled) {
        parts.set("row", String(state.selected.feature));
      } else if (same.length > 1) {
        parts.set("nth", String(same.indexOf(state.selected.row) + 1));
      }
    }
    return parts.toString();
  }

  function readFilters(parts) {
    lw.filters.clear();
    for (const field of ["verdict", "urgency", "circuit"]) {
      filters[field] = unlisted(parts.get(field), words[field]);
    }
    filters.strength = range(parts.get("strength"), 0, 100);
    filters.strengthAbsent = filters.strength !== null && parts.get("strength0") === "1";
    filters.year = years.length > 0 ? range(parts.get("year"), years[0], years[years.length - 1]) : null;
    filters.yearAbsent = filters.year !== null && parts.get("year0") === "1";
    filters.yearLater = filters.year !== null && parts.get("later") === "1";
  }

  function readPosition(parts) {
    const at = numbers(parts.get("at"), 3);
    const fits = at !== null && Math.abs(at[0]) <= 180 && Math.abs(at[1]) <= 85 && at[2] >= 0 && at[2] <= 22;
    state.position = fits ? { lon: at[0], lat: at[1], zoom: at[2] } : null;
  }

  /** A pole without an id cannot be named in an address. */
  function readSelected(parts) {
    const rows = parts.has("pole") ? store.rowsOf(parts.get("pole")) : [];
    if (store.tiled && parts.has("pole")) {
      const feature = /^\d{1,10}$/.test(parts.get("row") || "") ? Number(parts.get("row")) : -1;
      const known = store.rowOfFeature(feature);
      if (known === undefined || !rows.includes(known)) {
        lw.selectRow(null);
        lw.search.selectById(parts.get("pole"), feature, { move: state.position === null });
        return;
      }
      lw.selectRow(known, { move: state.position === null });
      return;
    }
    const named = rows[Number(parts.get("nth") || 1) - 1];
    const row = named === undefined ? rows[0] : named;
    lw.selectRow(row === undefined ? null : row, { move: state.position === null });
  }

  /**
   * Takes the state from the address.
   * @returns {boolean} whether it holds a position
   */
  function read() {
    const text = window.location.hash.slice(1);
    if (!text.includes("=")) {
      return false;
    }
    written = text;
    const parts = new URLSearchParams(text);
    readFilters(parts);
    readPosition(parts);
    state.theme = THEMES.includes(parts.get("colour")) ? parts.get("colour") : "verdict";
    if (parts.has("layers")) {
      const known = [...store.site.layers, ...store.site.backgrounds].map((l) => l.name).concat("weakest");
      state.layers = new Set(parts.get("layers").split(",").filter((name) => known.includes(name)));
    }
    readSelected(parts);
    return state.position !== null;
  }

  function write() {
    const text = toText();
    if (text === written) {
      return;
    }
    written = text;
    try {
      window.history.replaceState(null, "", "#" + text);
    } catch (_) {
      // A browser that does not let files do this: the address stays as it is.
    }
  }

  const writeSoon = lw.dom.settled(write, 150);

  /** Follows the state from now on, and the address where someone changes it. */
  function follow() {
    for (const event of ["filters", "theme", "layers", "selected", "view"]) {
      lw.on(event, writeSoon);
    }
    window.addEventListener("hashchange", () => {
      if (window.location.hash.slice(1) !== written && window.location.hash.includes("=")) {
        const positioned = read();
        for (const event of ["filters", "theme", "layers"]) {
          lw.tell(event);
        }
        if (positioned) {
          lw.tell("position");
        }
      }
    });
  }

  lw.link = { toText, read, follow, write };
})((window.Linewood = window.Linewood || {}));
