// The poles as the page holds them: columns, one place a row.
(function (lw) {
  "use strict";

  /** Worst first; what else a dataset may hold comes last. */
  const SEVERITY = ["replace", "stub", "unassessed", "treat", "serviceable"];
  const URGENCY = ["now", "soon", "routine"];

  const site = window.LINEWOOD_SITE || null;
  const poles = window.LINEWOOD_POLES || null;

  /**
   * Reads one column, held plain or as words and codes.
   * @param {*} column
   * @returns {function(number): *} the value of a row, null where there is none
   */
  function reader(column) {
    if (Array.isArray(column)) {
      return (row) => (column[row] === undefined ? null : column[row]);
    }
    if (column && Array.isArray(column.codes) && Array.isArray(column.words)) {
      const { words, codes } = column;
      return (row) => (codes[row] >= 0 ? words[codes[row]] : null);
    }
    return () => null;
  }

  const readers = Object.create(null);
  for (const name of Object.keys(poles ? poles.columns : {})) {
    readers[name] = reader(poles.columns[name]);
  }
  const ids = new Map();
  const count = poles ? poles.count : 0;
  for (let row = 0; row < count; row += 1) {
    const id = value(row, "pole_id");
    const rows = ids.get(id);
    if (rows) {
      rows.push(row);
    } else {
      ids.set(id, [row]);
    }
  }

  /** Rows of the page by the number of the feature in the tiles. */
  const features = new Map(poles && poles.row ? poles.row.map((feature, row) => [feature, row]) : []);

  /**
   * @param {number} row
   * @param {string} field
   * @returns {*} null where nothing is recorded
   */
  function value(row, field) {
    const found = readers[field] ? readers[field](row) : null;
    return found === "" ? null : found;
  }

  /** An inspection dated after the day of the assessment: a slip, and no year to filter by. */
  const LATER = "later";

  /**
   * The year of a pole's assessed inspection, LATER, or null.
   * @param {number} row
   * @returns {number|string|null}
   */
  function year(row) {
    const date = value(row, "inspected_on");
    if (typeof date !== "string" || !/^\d{4}-/.test(date)) {
      return null;
    }
    return site.date && date.slice(0, 10) > site.date ? LATER : Number(date.slice(0, 4));
  }

  /** The row of a feature of the tiles, undefined where the page does not hold that pole. */
  function rowOfFeature(feature) {
    return features.get(feature);
  }

  /** The number in the tiles of a pole of the page. */
  function featureOf(row) {
    return poles.row ? poles.row[row] : row;
  }

  /**
   * Where a pole stands, or null where the dataset gives no place.
   * @param {number} row
   * @returns {[number, number]|null}
   */
  function place(row) {
    const at = [poles.lon[row], poles.lat[row]];
    return at.every((n) => typeof n === "number" && Number.isFinite(n)) ? at : null;
  }

  /**
   * The rows with this id: several where ids are not unique.
   * @param {*} id
   * @returns {number[]}
   */
  function rowsOf(id) {
    return ids.get(id) || [];
  }

  /** A pole's id as people read it. */
  function idShown(id) {
    return id === null || id === undefined || id === "" ? "(no id)" : String(id);
  }

  /** The meanings of a pole's reasons, of `code;code`. */
  function reasonWords(codes) {
    const known = (site && site.reasons) || {};
    return String(codes || "").split(";").filter((c) => c !== "").map((code) => {
      const words = Object.prototype.hasOwnProperty.call(known, code) ? known[code] : code.replace(/_/g, " ");
      return words.charAt(0).toUpperCase() + words.slice(1);
    });
  }

  /** The words of an order that occur, the known ones first, then others by name, null last. */
  function wordsIn(field, order) {
    const seen = new Set();
    for (let row = 0; row < count; row += 1) {
      seen.add(value(row, field));
    }
    const others = [...seen].filter((w) => w !== null && !order.includes(w)).sort();
    return [...order.filter((w) => seen.has(w)), ...others, ...(seen.has(null) ? [null] : [])];
  }

  /** How bad a verdict is: 0 the worst. */
  function severity(verdict) {
    const at = SEVERITY.indexOf(verdict);
    return at < 0 ? SEVERITY.length : at;
  }

  /**
   * A value as people read it, without its unit.
   * @param {*} v
   * @returns {string}
   */
  function shown(v) {
    if (v === null || v === undefined || v === "") {
      return "not recorded";
    }
    if (typeof v === "boolean") {
      return v ? "yes" : "no";
    }
    if (typeof v === "number") {
      return v.toLocaleString("en", { maximumFractionDigits: 2, useGrouping: false });
    }
    return String(v);
  }

  /** The title of a field: a bare name becomes words. */
  function titleOf(field) {
    if (field.title && field.title !== field.name) {
      return field.title;
    }
    const words = field.name.replace(/_pct$/, "").replace(/_/g, " ");
    return words.charAt(0).toUpperCase() + words.slice(1);
  }

  /** A count with thousands parted. */
  function counted(n) {
    return n.toLocaleString("en");
  }

  lw.store = {
    site,
    poles,
    count,
    tiled: Boolean(site && site.mode === "tiles"),
    SEVERITY,
    URGENCY,
    value,
    LATER,
    year,
    place,
    rowsOf,
    rowOfFeature,
    featureOf,
    idShown,
    reasonWords,
    wordsIn,
    severity,
    shown,
    titleOf,
    counted,
  };
})((window.Linewood = window.Linewood || {}));
