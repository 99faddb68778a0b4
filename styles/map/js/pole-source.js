// The poles as a source of the map: features of the page's own columns, or the folder's tiles.
(function (lw) {
  "use strict";

  const { store } = lw;
  /** From this zoom on features of tiles carry all fields. */
  const FULL_ZOOM = 12;

  /** All poles with a place, the worst last: they are drawn on top. */
  function collection() {
    const rows = [];
    for (let row = 0; row < store.count; row += 1) {
      if (store.place(row) !== null) {
        rows.push(row);
      }
    }
    rows.sort((a, b) => store.severity(store.value(b, "verdict")) - store.severity(store.value(a, "verdict")) || a - b);
    const features = rows.map((row) => {
      const properties = { row, year: store.year(row) };
      for (const field of ["verdict", "urgency", "remaining_pct", "weakest_azimuth", "circuit"]) {
        const value = store.value(row, field);
        if (value !== null) {
          properties[field] = value;
        }
      }
      return { type: "Feature", id: row, geometry: { type: "Point", coordinates: store.place(row) }, properties };
    });
    return { type: "FeatureCollection", features };
  }

  /** @returns {Object} the source `poles` of a MapLibre style */
  function source() {
    if (!store.tiled) {
      return { type: "geojson", data: collection(), maxzoom: 16, tolerance: 0, buffer: 64 };
    }
    const base = window.location.href.replace(/[?#].*$/, "").replace(/[^/]*$/, "");
    return {
      type: "vector",
      tiles: [base + "tiles/{z}/{x}/{y}.pbf"],
      minzoom: store.site.tiles.minzoom,
      maxzoom: store.site.tiles.maxzoom,
    };
  }

  /** Do the features of the map carry all fields at this zoom? */
  function full(zoom) {
    return !store.tiled || zoom >= FULL_ZOOM;
  }

  lw.poleSource = { source, full, FULL_ZOOM };
})((window.Linewood = window.Linewood || {}));
