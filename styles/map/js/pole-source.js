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
      const properties = { row };
      for (const field of ["verdict", "urgency", "remaining_pct", "weakest_azimuth", "circuit", "inspected_on"]) {
        const value = store.value(row, field);
        if (value !== null) {
          properties[field] = value;
        }
      }
      return { type: "Feature", id: row, geometry: { type: "Point", coordinates: store.place(row) }, properties };
    });
    return { type: "FeatureCollection", features };
  }

  const PROTOCOL = "linewood-tiles";

  /** Is there a file of that tile? The list has, by zoom and column, first and last rows in turn. */
  function isThere(z, x, y) {
    const rows = (store.site.tiles.there[z] || {})[x] || [];
    for (let i = 0; i < rows.length; i += 2) {
      if (y >= rows[i] && y <= rows[i + 1]) {
        return true;
      }
    }
    return false;
  }

  /** A tile without poles has no file, and is not asked for. */
  async function tile(request, stop) {
    const at = request.url.slice((PROTOCOL + "://").length);
    if (!isThere(...at.split("/").map(Number))) {
      return { data: new ArrayBuffer(0) };
    }
    const answer = await window.fetch("tiles/" + at + ".pbf", { signal: stop.signal });
    if (!answer.ok) {
      throw new Error("tiles/" + at + ".pbf is not there");
    }
    return { data: await answer.arrayBuffer() };
  }

  /** @returns {Object} the source `poles` of a MapLibre style */
  function source() {
    if (!store.tiled) {
      return { type: "geojson", data: collection(), maxzoom: 16, tolerance: 0, buffer: 64 };
    }
    window.maplibregl.addProtocol(PROTOCOL, tile);
    return {
      type: "vector",
      tiles: [PROTOCOL + "://{z}/{x}/{y}"],
      minzoom: store.site.tiles.minzoom,
      maxzoom: store.site.tiles.maxzoom,
    };
  }

  /** Do the features of the map carry all fields at this zoom? */
  function full(zoom) {
    return !store.tiled || zoom >= FULL_ZOOM;
  }

  /**
   * Does this feature stand for several poles that have no room in its tile? A column `count` of the user does not make
   * it so: poles have numbers, points that count have none.
   */
  function isCounted(feature) {
    return feature.id === undefined;
  }

  lw.poleSource = { source, full, isCounted, FULL_ZOOM };
})((window.Linewood = window.Linewood || {}));
