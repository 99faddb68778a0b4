// Clicking the map: the pole there, a choice where several stand in one place, else what the layers say.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;
  const REACH = 6;
  const MOST = 50;
  let popup = null;

  function close() {
    if (popup !== null) {
      popup.remove();
      popup = null;
    }
  }

  function open(place, content) {
    close();
    popup = new window.maplibregl.Popup({ maxWidth: "320px", focusAfterOpen: true });
    popup.setLngLat(place).setDOMContent(content).addTo(lw.map.map);
  }

  function box(point) {
    return [
      [point.x - REACH, point.y - REACH],
      [point.x + REACH, point.y + REACH],
    ];
  }

  /** The poles near a point of the map, each once, the nearest first. */
  function polesAt(point) {
    const found = new Map();
    for (const feature of lw.map.map.queryRenderedFeatures(box(point), { layers: lw.map.poleLayers() })) {
      const key = feature.id === undefined ? JSON.stringify(feature.properties) : feature.id;
      if (!found.has(key)) {
        const at = lw.map.map.project(feature.geometry.coordinates);
        found.set(key, { feature, off: Math.hypot(at.x - point.x, at.y - point.y) });
      }
    }
    return [...found.values()].sort((a, b) => a.off - b.off).map((f) => f.feature);
  }

  function idOf(feature) {
    return store.tiled ? feature.properties.pole_id : store.value(feature.id, "pole_id");
  }

  function select(feature) {
    close();
    if (!store.tiled) {
      lw.selectRow(feature.id);
      return;
    }
    lw.selectFeature(feature.id, {
      id: idOf(feature),
      place: feature.geometry.coordinates,
      properties: lw.poleSource.full(lw.map.map.getZoom()) ? feature.properties : null,
      move: false,
    });
  }

  /** Where a pole was found by its id, its fields are in the tile that the map has come to. */
  function complete() {
    const pole = state.selected;
    if (pole === null || pole.row !== null || pole.properties || !lw.poleSource.full(lw.map.map.getZoom())) {
      return;
    }
    const [found] = lw.map.map.querySourceFeatures("poles", {
      sourceLayer: "poles",
      filter: ["==", ["id"], pole.feature],
    });
    if (found) {
      pole.properties = found.properties;
      lw.tell("completed");
    }
  }

  function choice(features) {
    const items = features.slice(0, MOST).map((feature) =>
      dom.element("li", {}, [
        dom.element("button", { type: "button", class: "plain", onclick: () => select(feature) }, [
          lw.marks.badge("verdict", feature.properties.verdict === undefined ? null : feature.properties.verdict),
          dom.element("bdi", { text: store.idShown(idOf(feature)) }),
        ]),
      ]),
    );
    const more = features.length > MOST ? [dom.element("p", { text: "and " + (features.length - MOST) + " more: zoom in" })] : [];
    return dom.element("section", { class: "about" }, [
      dom.element("h3", { text: store.counted(features.length) + " poles here" }),
      dom.element("ul", { class: "choice" }, items),
      ...more,
    ]);
  }

  function counted(feature) {
    const text = store.counted(Number(feature.properties.count)) + " poles are near here. Zoom in to see each.";
    return dom.element("section", { class: "about" }, [
      lw.marks.badge("verdict", feature.properties.verdict),
      dom.element("p", { text }),
    ]);
  }

  function clicked(event) {
    const features = polesAt(event.point);
    const single = features.filter((f) => !lw.poleSource.isCounted(f));
    if (single.length > 1) {
      open(single[0].geometry.coordinates, choice(single));
    } else if (single.length === 1) {
      select(single[0]);
    } else if (features.length > 0) {
      open(features[0].geometry.coordinates, counted(features[0]));
    } else {
      const about = lw.overlays.at(box(event.point));
      if (about.length > 0) {
        open(event.lngLat, dom.element("div", {}, about.map((a) => lw.overlays.describe(a.layer, a.properties))));
      } else {
        close();
      }
    }
  }

  function start() {
    const { map } = lw.map;
    map.on("click", clicked);
    if (store.tiled) {
      map.on("idle", complete);
    }
    map.on("mousemove", (event) => {
      map.getCanvas().classList.toggle("pointing", polesAt(event.point).length > 0);
    });
  }

  lw.pick = { start, close };
})((window.Linewood = window.Linewood || {}));
