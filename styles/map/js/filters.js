// Which poles are wanted: the same question put to a row of the table and to a feature of the map.
(function (lw) {
  "use strict";

  const { store } = lw;
  const NONE = "\u0000none";

  const words = {
    verdict: store.wordsIn("verdict", store.SEVERITY),
    urgency: store.wordsIn("urgency", store.URGENCY),
    circuit: store.wordsIn("circuit", []),
  };
  const years = [];
  for (let row = 0; row < store.count; row += 1) {
    const year = store.year(row);
    if (year !== null && !years.includes(year)) {
      years.push(year);
    }
  }
  years.sort((a, b) => a - b);
  if (store.tiled) {
    // The rows here are only the worst: all words that there may be are offered.
    words.verdict = store.SEVERITY.slice();
    words.urgency = [...store.URGENCY, null];
  }

  /** `null` of a set: all; of a range: no limit. */
  const filters = {
    verdict: null,
    urgency: null,
    circuit: null,
    strength: null,
    strengthAbsent: false,
    year: null,
    yearAbsent: false,
  };

  /** Are no poles left out? */
  function none() {
    return (
      filters.verdict === null &&
      filters.urgency === null &&
      filters.circuit === null &&
      filters.strength === null &&
      filters.year === null
    );
  }

  function clear() {
    Object.assign(filters, {
      verdict: null,
      urgency: null,
      circuit: null,
      strength: null,
      strengthAbsent: false,
      year: null,
      yearAbsent: false,
    });
  }

  function inRange(value, range, absent) {
    if (range === null) {
      return true;
    }
    return value === null ? absent : value >= range[0] && value <= range[1];
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
      inRange(store.year(row), filters.year, filters.yearAbsent)
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

  /** A number that the map reads: a year from `year` or, in tiles, from the first digits of the date. */
  function number(field) {
    if (field === "year") {
      return ["to-number", ["coalesce", ["get", "year"], ["slice", ["coalesce", ["get", "inspected_on"], "    "], 0, 4]], -1];
    }
    return ["to-number", ["coalesce", ["get", field], -1], -1];
  }

  function rangeTest(field, range, absent) {
    const here = ["all", [">=", number(field), range[0]], ["<=", number(field), range[1]]];
    const isAbsent = ["<", number(field), field === "year" ? 1 : 0];
    return absent ? ["any", isAbsent, here] : ["all", ["!", isAbsent], here];
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
      all.push(rangeTest("remaining_pct", filters.strength, filters.strengthAbsent));
    }
    if (filters.year !== null) {
      all.push(rangeTest("year", filters.year, filters.yearAbsent));
    }
    return all;
  }

  /** Does a filter speak that needs more than the verdict? */
  function needsFields() {
    return filters.urgency !== null || filters.circuit !== null || filters.strength !== null || filters.year !== null;
  }

  lw.filters = { filters, words, years, none, clear, passes, rows, expression, needsFields };
})((window.Linewood = window.Linewood || {}));
