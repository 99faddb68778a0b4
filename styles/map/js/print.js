// One sheet of paper: the map as it is seen, with title, legend, scale, north, date and cautions.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;

  /** A round length of at most `most`: 1, 2 or 5 with zeros. */
  function round(most) {
    const ten = Math.pow(10, Math.floor(Math.log10(most)));
    return [5, 2, 1].map((n) => n * ten).find((n) => n <= most);
  }

  /** @returns {{metres: number, words: string}} a bar of at most so many metres */
  function bar(most) {
    if (store.site.units === "us") {
      const feet = most / 0.3048;
      if (feet < 5280) {
        const n = round(feet);
        return { metres: n * 0.3048, words: store.counted(n) + " ft" };
      }
      const n = round(feet / 5280);
      return { metres: n * 1609.344, words: store.counted(n) + " mi" };
    }
    const n = round(most);
    return { metres: n, words: n < 1000 ? n + " m" : store.counted(n / 1000) + " km" };
  }

  /** The canvas is empty once shown: it is drawn anew and copied within the same task. */
  function picture() {
    const { map } = lw.map;
    map.redraw();
    const canvas = map.getCanvas();
    const wide = map.getContainer().clientWidth;
    const { metres, words } = bar(lw.map.metresPerPixel() * wide * 0.25);
    const share = ((metres / (lw.map.metresPerPixel() * wide)) * 100).toFixed(2) + "%";
    const scale = dom.drawing("svg", { class: "scale", width: "100%", height: 30, "aria-hidden": "true" }, [
      dom.drawing("rect", { x: 8, y: 2, width: share, height: 26, fill: "#FFFFFF", "fill-opacity": 0.85 }),
      dom.drawing("text", { x: 12, y: 15, class: "scale-words", text: words }),
      dom.drawing("rect", { x: 8, y: 20, width: share, height: 5, fill: "#1A1A1A" }),
    ]);
    return dom.element("div", { class: "sheet-map" }, [
      dom.element("img", { src: canvas.toDataURL("image/png"), alt: "Map of poles" }),
      scale,
      north(),
    ]);
  }

  function north() {
    return dom.drawing("svg", { class: "north", width: 36, height: 52, viewBox: "0 0 36 52" }, [
      dom.drawing("rect", { x: 0, y: 0, width: 36, height: 52, fill: "#FFFFFF", "fill-opacity": 0.85 }),
      dom.drawing("polygon", { points: "18,4 28,34 18,28 8,34", fill: "#1A1A1A" }),
      dom.drawing("text", { x: 18, y: 48, "text-anchor": "middle", class: "north-words", text: "N" }),
    ]);
  }

  function today() {
    const d = new Date();
    const two = (n) => String(n).padStart(2, "0");
    return d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate());
  }

  function words() {
    const parts = [
      (store.site.date ? "Assessed " + store.site.date + ", printed " : "Printed ") + today(),
      dom.byId("shown").textContent,
      dom.byId("unseen").textContent,
      dom.byId("attribution").textContent,
    ].filter((text) => text !== "");
    if (state.selected !== null) {
      parts.push("Selected pole: " + store.idShown(state.selected.id));
    }
    return parts.map((text) => dom.element("p", { text }));
  }

  function fill() {
    const cautions = store.site.cautions.map((c) => dom.element("li", { text: c }));
    dom.fill(dom.byId("sheet"), [
      dom.element("p", { class: "sheet-title", text: store.site.title }),
      lw.map.map === null
        ? dom.element("p", { text: "This browser draws no map; the table is on the page." })
        : picture(),
      dom.element("div", { class: "sheet-foot" }, [
        dom.element("div", {}, words()),
        dom.element("ul", { class: "sheet-cautions" }, cautions),
      ]),
      lw.legend.make(),
    ]);
  }

  function start() {
    window.addEventListener("beforeprint", fill);
    window.addEventListener("afterprint", () => dom.fill(dom.byId("sheet"), []));
  }

  lw.print = { start };
})((window.Linewood = window.Linewood || {}));
