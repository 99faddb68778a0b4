// What is chosen on the page, and who wants to know when it changes.
(function (lw) {
  "use strict";

  const listeners = Object.create(null);

  /**
   * The state: everything that a link to a view holds.
   * `theme`: verdict, urgency or strength. `layers`: names of the layers that are on. `selected`: a pole, as
   * `{row, feature, id, place, properties}`; row is null for a pole of the tiles that is not in the table, `feature` its number
   * there, `properties` null as long as its tile is not read.
   */
  const state = {
    theme: "verdict",
    layers: new Set(),
    selected: null,
    position: null,
  };

  /**
   * @param {string} event `filters`, `theme`, `layers`, `selected`, `completed`, `view`
   * @param {function(): void} run
   */
  function on(event, run) {
    (listeners[event] = listeners[event] || []).push(run);
  }

  /** @param {string} event */
  function tell(event) {
    for (const run of listeners[event] || []) {
      run();
    }
  }

  /**
   * Selects a pole of the table, or none.
   * @param {number|null} row
   * @param {{move: boolean}} [how] whether the map moves there
   */
  function selectRow(row, how) {
    state.selected =
      row === null
        ? null
        : {
            row,
            feature: lw.store.featureOf(row),
            id: lw.store.value(row, "pole_id"),
            place: lw.store.place(row),
            properties: null,
            move: Boolean(how && how.move),
          };
    tell("selected");
  }

  /**
   * Selects a pole by its number in the tiles: its row where the page holds it.
   * @param {number} feature
   * @param {{id: *, place: [number, number]|null, properties: Object|null, move: boolean}} pole where it does not
   */
  function selectFeature(feature, pole) {
    const row = lw.store.rowOfFeature(feature);
    if (row !== undefined) {
      selectRow(row, pole);
      return;
    }
    state.selected = Object.assign({ row: null, feature }, pole);
    tell("selected");
  }

  /**
   * @param {string} name
   * @param {boolean} wanted
   */
  function switchLayer(name, wanted) {
    if (wanted) {
      state.layers.add(name);
    } else {
      state.layers.delete(name);
    }
    tell("layers");
  }

  lw.state = state;
  lw.on = on;
  lw.tell = tell;
  lw.selectRow = selectRow;
  lw.selectFeature = selectFeature;
  lw.switchLayer = switchLayer;
})((window.Linewood = window.Linewood || {}));
