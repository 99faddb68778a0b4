// Which poles are wanted: the same question put to a row of the table and to a feature of the map.
(function (lw) {
  "use strict";

  const { store } = lw;
  const NONE = "\u0000none";

  // Of all poles, also of those that the page does not hold.
  const known = (store.site && store.site.words) || { circuit: [], year: [], after_that: 0 };
  const words = {
    verdict: store.tiled ? store.SEVERITY.slice() : store.wordsIn("verdict", store.SEVERITY),
    urgency: store.tiled ? [...store.URGENCY, null] : store.wordsIn("urgency", store.URGENCY),
    circuit: known.circuit,
  };
  const years = known.year;
  const later = known.after_that;

  /** `null` of a set: all; of a range: no limit. */
  const ALL = {
    verdict: null,
    urgency: null,
    circuit: null,
    strength: null,
    strengthAbsent: false,
    year: null,
    yearAbsent: false,
    yearLater: false,
  };
  const FIELDS = ["verdict", "urgency", "circuit", "strength", "year"];
  const filters = Object.assign({}, ALL);

  /** Are no poles left out? */
  function none() {
    return FIELDS.every((field) => filters[field] === null);
  }

  function clear() {
    Object.assign(filters, ALL);
  }

  function inRange(value, range, absent) {
    if (range === null) {
      return true;
    }
    return value === null ? absent : value >= range[0] && value <= range[1];
  }

  function yearFits(year) {
    return year === store.LATER ? filters.year === null || filters.yearLater : inRange(year, filters.year, filters.yearAbsent);
  }

  /**
   * Is this pole wanted?
   * @param {number} row
   * @returns {boolean}
   */
  function passes(row) {
    for (const field of ["verdict", "urgency", "circuit"]) {
      if (filters[field] !== null && !filters[field].has(store.value(row, field))) {
        return false;
      }
    }
    return (
      inRange(store.value(row, "remaining_pct"), filters.strength, filters.strengthAbsent) &&
      yearFits(store.year(row))
    );
  }

  /** All wanted rows, in the order of the dataset. */
  function rows() {
    const out = [];
    for (let row = 0; row < store.count; row += 1) {
      if (passes(row)) {
        out.push(row);
      }
    }
    return out;
  }

  function setTest(field) {
    const wanted = [...filters[field]].map((w) => (w === null ? NONE : w));
    return ["in", ["coalesce", ["get", field], NONE], ["literal", wanted]];
  }

  /** Of parts of all values only those that are wanted. */
  function anyOf(parts) {
    return ["any", ...parts.filter((p) => p.wanted).map((p) => p.test)];
  }

  function between(number, range) {
    return ["all", [">=", number, range[0]], ["<=", number, range[1]]];
  }

  function strengthTest() {
    const number = ["to-number", ["coalesce", ["get", "remaining_pct"], -1], -1];
    const absent = ["<", number, 0];
    return anyOf([
      { wanted: true, test: ["all", ["!", absent], between(number, filters.strength)] },
      { wanted: filters.strengthAbsent, test: absent },
    ]);
  }

  function yearTest() {
    const date = ["coalesce", ["get", "inspected_on"], ""];
    const number = ["to-number", ["slice", ["concat", date, "    "], 0, 4], -1];
    const absent = ["<", number, 1];
    const isLater = store.site.date ? [">", ["slice", ["concat", date, ""], 0, 10], store.site.date] : ["==", 1, 0];
    return anyOf([
      { wanted: true, test: ["all", ["!", absent], ["!", isLater], between(number, filters.year)] },
      { wanted: filters.yearAbsent, test: absent },
      { wanted: filters.yearLater, test: ["all", ["!", absent], isLater] },
    ]);
  }

  /**
   * The same as a filter of the map.
   * @param {boolean} full whether features carry all fields; far out, tiles have the verdict alone
   * @returns {Array}
   */
  function expression(full) {
    const all = ["all"];
    if (filters.verdict !== null) {
      all.push(setTest("verdict"));
    }
    if (!full) {
      return all;
    }
    for (const field of ["urgency", "circuit"]) {
      if (filters[field] !== null) {
        all.push(setTest(field));
      }
    }
    if (filters.strength !== null) {
      all.push(strengthTest());
    }
    if (filters.year !== null) {
      all.push(yearTest());
    }
    return all;
  }

  /** Does a filter speak that needs more than the verdict? */
  function needsFields() {
    return FIELDS.some((field) => field !== "verdict" && filters[field] !== null);
  }

  lw.filters = { filters, words, years, later, none, clear, passes, rows, expression, needsFields };
})((window.Linewood = window.Linewood || {}));
