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

  /** Layers of the map's style that draw a layer of the site, by its first style; of one class where it is named. */
  function drawnBy(name, classKey) {
    const layers = (store.site.style || { layers: [] }).layers.filter((l) => l.source === name && l.paint);
    const style = (l) => (l.metadata || {})["linewood:style"];
    return layers.filter(
      (l) => style(l) === style(layers[0]) && (!classKey || [classKey, classKey + "-outline", classKey + "-hatch"].includes(l.id)),
    );
  }

  function lineOf(layers) {
    const line = layers.find((l) => l.type === "line");
    if (!line) {
      return null;
    }
    const width = typeof line.paint["line-width"] === "number" ? line.paint["line-width"] : 2;
    const dash = line.paint["line-dasharray"];
    return {
      stroke: colourIn(line.paint["line-color"]),
      "stroke-width": width,
      "stroke-dasharray": Array.isArray(dash) && dash.every(Number.isFinite) ? dash.map((d) => d * width).join(" ") : null,
    };
  }

  function box(fill, line, hatched) {
    const edge = line || { stroke: "#1A1A1A", "stroke-width": 0.5 };
    const opacity = fill && typeof fill.paint["fill-opacity"] === "number" ? fill.paint["fill-opacity"] : 0.6;
    const colour = fill ? colourIn(fill.paint["fill-color"]) : null;
    const slants = hatched ? [4, 9, 14].map((x) => ({ x1: x - 3, y1: 15, x2: x + 3, y2: 3 })) : [];
    return [
      dom.drawing("rect", Object.assign({ x: 2, y: 3, width: 20, height: 12, fill: colour || "none", "fill-opacity": opacity }, edge)),
      ...slants.map((s) => dom.drawing("line", Object.assign({ stroke: "#1A1A1A" }, s))),
    ];
  }

  /**
   * A small drawing of how a layer, or one class of it, looks.
   * @param {string} name
   * @param {string} [classKey]
   * @returns {Array<Node>} none where the style does not say
   */
  function swatch(name, classKey) {
    const layers = drawnBy(name, classKey);
    const fill = layers.find((l) => l.type === "fill" && l.paint["fill-color"]);
    const hatched = layers.some((l) => l.paint["fill-pattern"]);
    const line = lineOf(layers);
    let parts = [];
    if (name === "weakest") {
      parts = [dom.drawing("line", { x1: 5, y1: 15, x2: 17, y2: 3, stroke: "#1A1A1A", "stroke-width": 2.5 })];
    } else if (fill || hatched || (line !== null && isArea(name))) {
      parts = box(fill, line, hatched);
    } else if (line !== null) {
      parts = [dom.drawing("line", Object.assign({ x1: 1, y1: 9, x2: 23, y2: 9 }, line))];
    } else if (classKey && lw.marks.known(classKey)) {
      return [lw.marks.figure(classKey)];
    }
    return parts.length === 0
      ? []
      : [dom.drawing("svg", { class: "mark", width: 24, height: 18, viewBox: "0 0 24 18", "aria-hidden": "true" }, parts)];
  }

  function isArea(name) {
    return lw.overlays.known().some((l) => l.name === name && l.geometry === "polygon");
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
    const part = (title, entries) => dom.element("div", {}, [dom.element("h3", { text: title }), dom.element("ul", {}, entries)]);
    const simple = on.filter((l) => !(l.classes || []).length).map((l) => entry(swatch(l.name), l.title));
    if (state.layers.has("weakest")) {
      simple.unshift(entry(swatch("weakest"), "Weakest direction"));
    }
    const classed = on.filter((l) => (l.classes || []).length > 0);
    return dom.element("div", { class: "legend-parts" }, [
      part(TITLES[state.theme], classesOf(state.theme)),
      ...classed.map((l) => part(l.title, l.classes.map((c) => entry(swatch(l.name, c.id), c.label)))),
      ...(simple.length > 0 ? [part("Layers", simple)] : []),
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
