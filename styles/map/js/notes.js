// Below the map: what may be downloaded and read, and where all of it comes from.
(function (lw) {
  "use strict";

  const { store, dom } = lw;

  function bytes(n) {
    const units = ["bytes", "kB", "MB", "GB"];
    let at = 0;
    let value = n;
    while (value >= 1000 && at < units.length - 1) {
      value /= 1000;
      at += 1;
    }
    return (at === 0 ? value : value.toFixed(value < 10 ? 1 : 0)) + " " + units[at];
  }

  function part(id, title, content) {
    return dom.element("section", { id, "aria-labelledby": id + "-title" }, [
      dom.element("h2", { id: id + "-title", text: title }),
      content,
    ]);
  }

  function list(items) {
    return dom.element("ul", {}, items.map((i) => dom.element("li", {}, i)));
  }

  function downloads() {
    return list(
      store.site.downloads.map((d) => [
        dom.link(d.file, d.title),
        dom.element("span", { class: "size", text: typeof d.bytes === "number" ? " " + bytes(d.bytes) : "" }),
      ]),
    );
  }

  function provenance() {
    const rows = store.site.provenance.map((pair) =>
      dom.element("tr", {}, [
        dom.element("th", { scope: "row", text: pair[0] }),
        dom.element("td", {}, [dom.element("bdi", { text: pair[1] })]),
      ]),
    );
    return dom.element("table", { class: "facts" }, [dom.element("tbody", {}, rows)]);
  }

  function start() {
    const { site } = store;
    const parts = [];
    if ((site.notes || []).length > 0) {
      parts.push(part("mind", "To mind", list(site.notes.map((n) => [n]))));
    }
    if (site.reports.length > 0) {
      parts.push(part("reports", "Reports", list(site.reports.map((r) => [dom.link(r.file, r.title)]))));
    }
    if (site.downloads.length > 0) {
      parts.push(part("downloads", "Downloads", downloads()));
    }
    if (site.provenance.length > 0) {
      parts.push(part("provenance", "Where this comes from", provenance()));
    }
    dom.fill(dom.byId("notes"), parts);
  }

  lw.notes = { start };
})((window.Linewood = window.Linewood || {}));
