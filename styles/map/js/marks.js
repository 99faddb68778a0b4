// Marks: the same shapes as images of the map and as small drawings beside words.
(function (lw) {
  "use strict";

  const { store, dom } = lw;

  /** Corners of a regular figure, the first upward, in a circle of radius 1. */
  function corners(n, inner) {
    const out = [];
    for (let i = 0; i < n; i += 1) {
      const r = inner !== undefined && i % 2 === 1 ? inner : 1;
      const a = (Math.PI * 2 * i) / n;
      out.push([r * Math.sin(a), -r * Math.cos(a)]);
    }
    return out;
  }

  const PLUS = [
    [-0.3, -1], [0.3, -1], [0.3, -0.3], [1, -0.3], [1, 0.3], [0.3, 0.3],
    [0.3, 1], [-0.3, 1], [-0.3, 0.3], [-1, 0.3], [-1, -0.3], [-0.3, -0.3],
  ];
  const turned = PLUS.map(([x, y]) => [(x - y) * Math.SQRT1_2, (x + y) * Math.SQRT1_2]);

  /** Outlines in a box from -1 to 1; a circle has none. */
  const OUTLINES = {
    square: [[-0.9, -0.9], [0.9, -0.9], [0.9, 0.9], [-0.9, 0.9]],
    triangle: [[0, -1], [1, 0.85], [-1, 0.85]],
    star: corners(10, 0.42),
    x: turned,
    cross: PLUS,
    diamond: corners(4),
    pentagon: corners(5),
    hexagon: corners(6),
    tick: [[-0.12, -1], [0.12, -1], [0.12, 1], [-0.12, 1]],
    arrow: [[0, -1], [0.55, -0.2], [0.15, -0.2], [0.15, 1], [-0.15, 1], [-0.15, -0.2], [-0.55, -0.2]],
  };

  const byName = new Map((store.site ? store.site.marks : []).map((m) => [m.id, m]));

  function outline(mark) {
    const shape = /^(dashed|dotted)_tick$/.test(mark.shape) ? "tick" : mark.shape;
    return Object.prototype.hasOwnProperty.call(OUTLINES, shape) ? OUTLINES[shape] : null;
  }

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
   * @param {{shape: string, size: number, fill: string, outline: string}} mark
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
    const points = outline(mark);
    if (points === null) {
      pen.arc(0, 0, r, 0, Math.PI * 2);
    } else {
      points.forEach(([x, y], i) => (i === 0 ? pen.moveTo(x * r, y * r) : pen.lineTo(x * r, y * r)));
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
      "stroke-width": 1,
      "stroke-linejoin": "round",
    };
    const points = outline(mark);
    if (points === null) {
      return dom.drawing("circle", Object.assign({ cx: 9, cy: 9, r: r * 0.95 }, look));
    }
    const text = points.map(([x, y]) => (9 + x * r).toFixed(2) + "," + (9 + y * r).toFixed(2)).join(" ");
    return dom.drawing("polygon", Object.assign({ points: text }, look));
  }

  /**
   * A mark to stand beside its word.
   * @param {string|null} id
   * @returns {SVGElement}
   */
  function figure(id) {
    const mark = byName.get(id) || { shape: "circle", size: 6, fill: "#FFFFFF", outline: "#6E6E6E" };
    const r = Math.min(7.5, Math.max(4, mark.size * 0.62));
    return dom.drawing("svg", { class: "mark", width: 18, height: 18, viewBox: "0 0 18 18", "aria-hidden": "true" }, [
      shape(mark, r),
    ]);
  }

  /**
   * The class that a value falls in.
   * @param {string} theme
   * @param {*} value
   * @returns {{label: string, mark: string, colour: string}|null}
   */
  function classOf(theme, value) {
    const classes = store.site.classes[theme] || [];
    const fits = (c) =>
      theme === "strength"
        ? value !== null && value >= (c.from === undefined ? -Infinity : c.from) && value < (c.to === undefined ? Infinity : c.to)
        : c.value === value;
    return classes.find((c) => !c.rest && fits(c)) || classes.find((c) => c.rest) || null;
  }

  /**
   * A value of a theme as mark and words.
   * @param {string} theme
   * @param {*} value
   * @returns {HTMLElement}
   */
  function badge(theme, value) {
    const found = classOf(theme, value);
    const words = found && !(found.rest && value !== null) ? found.label : value === null ? "none" : String(value);
    return dom.element("span", { class: "badge" }, [figure(found ? found.mark : null), words]);
  }

  lw.marks = { addImages, figure, classOf, badge };
})((window.Linewood = window.Linewood || {}));
