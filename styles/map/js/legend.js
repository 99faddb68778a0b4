// The legend: what each mark, line and area on the map means.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;
  const TITLES = { verdict: "Verdict", urgency: "Urgency", strength: "Remaining strength" };

  /** The first colour that a style names for a property, also inside an expression. */
  function colourIn(value) {
    if (typeof value === "string") {
      return /^#[0-9A-Fa-f]{3,8}$/.test(value) ? value : null;
    }
    return Array.isArray(value) ? value.map(colourIn).find((c) => c !== null) || null : null;
  }

  function paintOf(name, type, property) {
    const { layers: drawn } = store.site.style || { layers: [] };
    const layers = drawn.filter((l) => l.source === name && l.type === type && l.paint);
    return layers.map((l) => colourIn(l.paint[property])).find((c) => c !== null) || null;
  }

  /**
   * A small drawing of how a layer looks.
   * @param {string} name
   * @returns {Array<Node>} none where the style does not say
   */
  function swatch(name) {
    const fill = paintOf(name, "fill", "fill-color");
    const line = paintOf(name, "line", "line-color");
    const parts = [];
    if (name === "weakest") {
      parts.push(dom.drawing("line", { x1: 3, y1: 15, x2: 15, y2: 3, stroke: "#1A1A1A", "stroke-width": 2.5 }));
    } else if (fill !== null) {
      parts.push(
        dom.drawing("rect", {
          x: 2, y: 3, width: 14, height: 12, fill, "fill-opacity": 0.6, stroke: line || "#1A1A1A", "stroke-width": 1.5,
        }),
      );
    } else if (line !== null) {
      parts.push(dom.drawing("line", { x1: 1, y1: 9, x2: 17, y2: 9, stroke: line, "stroke-width": 3 }));
    }
    return parts.length === 0
      ? []
      : [dom.drawing("svg", { class: "mark", width: 18, height: 18, viewBox: "0 0 18 18", "aria-hidden": "true" }, parts)];
  }

  function entry(figure, words) {
    return dom.element("li", {}, [...figure, dom.element("span", { text: words })]);
  }

  function classesOf(theme) {
    return (store.site.classes[theme] || []).map((c) => entry([lw.marks.figure(c.mark)], c.label));
  }

  /** @returns {HTMLElement} the legend of what is on the map now */
  function make() {
    const on = lw.overlays.known().filter((l) => state.layers.has(l.name));
    const layers = on.map((l) => entry(swatch(l.name), l.title));
    if (state.layers.has("weakest")) {
      layers.unshift(entry(swatch("weakest"), "Weakest direction"));
    }
    return dom.element("div", { class: "legend-parts" }, [
      dom.element("div", {}, [
        dom.element("h3", { text: TITLES[state.theme] }),
        dom.element("ul", {}, classesOf(state.theme)),
      ]),
      ...(layers.length > 0
        ? [dom.element("div", {}, [dom.element("h3", { text: "Layers" }), dom.element("ul", {}, layers)])]
        : []),
    ]);
  }

  function start() {
    const show = () => dom.fill(dom.byId("legend"), [make()]);
    lw.on("theme", show);
    lw.on("layers", show);
    show();
  }

  lw.legend = { start, make, swatch };
})((window.Linewood = window.Linewood || {}));
