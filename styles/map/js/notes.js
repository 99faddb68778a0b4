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

  /** By format, each file with what is in it. */
  function downloads() {
    const formats = [...new Set(store.site.downloads.map((d) => d.format))];
    const size = (d) => (typeof d.bytes === "number" ? " " + bytes(d.bytes) : "");
    const items = (format) =>
      store.site.downloads
        .filter((d) => d.format === format)
        .map((d) => [dom.link(d.file, d.file.split("/").pop()), " ", d.title, dom.element("span", { class: "size", text: size(d) })]);
    return dom.element(
      "div",
      { class: "formats" },
      formats.map((f) => dom.element("div", {}, [dom.element("h3", { text: f }), list(items(f))])),
    );
  }

  /** A value that fills a page is on the page of provenance. */
  const LONGEST = 300;

  function provenance() {
    const rows = store.site.provenance.map(([item, value]) =>
      dom.element("tr", {}, [
        dom.element("th", { scope: "row", text: item }),
        dom.element("td", {}, [
          value.length > LONGEST
            ? dom.link("provenance.html", "on the page of provenance")
            : dom.element("bdi", { text: value }),
        ]),
      ]),
    );
    return dom.element("details", { class: "statements" }, [
      dom.element("summary", { text: store.counted(rows.length) + " statements of the runs" }),
      dom.element("table", { class: "facts" }, [dom.element("tbody", {}, rows)]),
    ]);
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
