// Marks, as the folder's style describes them: the same shapes as images of the map and as small drawings beside words.
(function (lw) {
  "use strict";

  const { store, dom } = lw;

  const byName = new Map((store.site ? store.site.marks : []).map((m) => [m.id, m]));

  function edge(mark) {
    return typeof mark.outline_width === "number" ? mark.outline_width : 1;
  }

  function hatch(mark, ratio) {
    const side = 8 * ratio;
    const canvas = dom.element("canvas", { width: side, height: side });
    const pen = canvas.getContext("2d");
    pen.strokeStyle = mark.outline || mark.fill;
    pen.lineWidth = ratio;
    pen.beginPath();
    for (const at of [-side, 0, side]) {
      pen.moveTo(at, side);
      pen.lineTo(at + side, 0);
    }
    pen.stroke();
    return pen.getImageData(0, 0, side, side);
  }

  /**
   * A mark as pixels.
   * @param {{shape: string, rings: Array, size: number, fill: string, outline: string}} mark
   * @param {number} ratio pixels of the image a pixel of the page
   * @returns {ImageData}
   */
  function image(mark, ratio) {
    if (mark.shape === "hatch") {
      return hatch(mark, ratio);
    }
    const side = Math.ceil((mark.size + edge(mark) * 2 + 2) * ratio);
    const canvas = dom.element("canvas", { width: side, height: side });
    const pen = canvas.getContext("2d");
    const r = (mark.size / 2) * ratio;
    pen.translate(side / 2, side / 2);
    pen.beginPath();
    for (const ring of mark.rings) {
      ring.forEach(([x, y], i) => (i === 0 ? pen.moveTo(x * r, y * r) : pen.lineTo(x * r, y * r)));
      pen.closePath();
    }
    pen.lineJoin = "round";
    pen.lineWidth = edge(mark) * 2 * ratio;
    pen.strokeStyle = mark.outline || "#1A1A1A";
    if (edge(mark) > 0) {
      pen.stroke();
    }
    pen.fillStyle = mark.fill;
    pen.fill();
    return pen.getImageData(0, 0, side, side);
  }

  /**
   * Puts all marks into a map.
   * @param {maplibregl.Map} map
   */
  function addImages(map) {
    const ratio = 3;
    for (const mark of byName.values()) {
      if (!map.hasImage(mark.id)) {
        map.addImage(mark.id, image(mark, ratio), { pixelRatio: ratio });
      }
    }
  }

  function shape(mark, r) {
    const look = {
      fill: mark.fill,
      stroke: mark.outline || "#1A1A1A",
      "stroke-width": Math.min(1, edge(mark)),
      "stroke-linejoin": "round",
    };
    const at = ([x, y]) => (9 + x * r).toFixed(2) + " " + (9 + y * r).toFixed(2);
    const path = mark.rings.map((ring) => "M" + ring.map(at).join("L") + "Z").join("");
    return dom.drawing("path", Object.assign({ d: path }, look));
  }

  /**
   * A mark to stand beside its word.
   * @param {string|null} id
   * @returns {SVGElement}
   */
  function figure(id) {
    const mark = byName.get(id);
    const drawn = mark && mark.rings.length > 0 ? [shape(mark, Math.min(7.5, Math.max(4, mark.size * 0.62)))] : [];
    const box = { class: "mark", width: 18, height: 18, viewBox: "0 0 18 18", "aria-hidden": "true" };
    return dom.drawing("svg", box, drawn);
  }

  /** Is there such a mark? */
  function known(id) {
    return byName.has(id);
  }

  /**
   * The class that a value falls in.
   * @param {string} theme
   * @param {*} value
   * @returns {{label: string, mark: string, colour: string}|null}
   */
  function classOf(theme, value) {
    const classes = store.site.classes[theme] || [];
    const rest = (c) => !c.from && !c.to && (c.value === undefined || c.value === null);
    const fits = (c) =>
      theme === "strength"
        ? value !== null && value >= (c.from === undefined || c.from === null ? -Infinity : c.from) && value < (c.to === undefined || c.to === null ? Infinity : c.to)
        : c.value === value;
    return classes.find((c) => !rest(c) && fits(c)) || classes.find(rest) || null;
  }

  /**
   * A value of a theme as mark and words.
   * @param {string} theme
   * @param {*} value
   * @returns {HTMLElement}
   */
  function badge(theme, value) {
    const found = classOf(theme, value);
    const words = found && !(value !== null && found.value === null) ? found.label : value === null ? "none" : String(value);
    return dom.element("span", { class: "badge" }, [figure(found ? found.mark : null), words]);
  }

  lw.marks = { addImages, figure, known, classOf, badge };
})((window.Linewood = window.Linewood || {}));
