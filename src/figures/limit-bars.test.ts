import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { figureCsv } from "./figure.js";
import { limitBarsFigure } from "./limit-bars.js";

const line = (label: string, ratioLow: number | null, ratioHigh: number | null) => ({
  label,
  ratioLow,
  ratioHigh,
  sources: [{ name: "invented source", edition: "2022 edition" }],
});
const groups = [
  {
    class: "scan subject" as const,
    lines: [line("nerve stimulation", 0.2, 2), line("heating", 0.02, 0.02), line("iron dose", null, null)],
  },
  { class: "animal" as const, lines: [line("nerve stimulation", null, null)] },
  { class: "staff" as const, lines: [line("stray field", 0, 20)] },
];
const data = { title: "Invented", groups };
const unknown = "no published threshold in our sources";

const panelsOf = (svg: string) =>
  [...parseHTML(svg).document.querySelectorAll("svg > svg")].filter((panel) =>
    panel.querySelector('[aria-label="x-grid"]'),
  );
type Panel = ReturnType<typeof panelsOf>[number];
const texts = (panel: Panel) => [...panel.querySelectorAll("text")].map((text) => text.textContent);
/** Ends of the links of one width, across. */
const links = (panel: Panel, width: string) =>
  [...panel.querySelectorAll(`[aria-label="link"][stroke-width="${width}"] path`)].map((path) =>
    [...path.getAttribute("d")!.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, x]) => Number(x)),
  );

describe("limitBarsFigure", () => {
  it("draws intervals on one logarithmic axis, with the limit at 1 and its name once", async () => {
    const { svg } = await limitBarsFigure(data);
    const [subject, , staff] = panelsOf(svg);
    const [[limit]] = links(subject, "1.6");
    const [[low, high], [single]] = links(subject, "9");
    // 0.2 and 2 on either side of 1; 0.02 a decade below 0.2
    const decade = high - low;
    expect((limit - low) / decade).toBeCloseTo(Math.log10(5), 3);
    expect((low - single) / decade).toBeCloseTo(1, 3);
    const [[fromEdge, twenty]] = links(staff, "9");
    expect((twenty - high) / decade).toBeCloseTo(1, 3);
    expect(fromEdge).toBe(346); // zero lies off the axis: from its edge
    expect(svg.match(/>limit</g)).toHaveLength(1);
    expect(texts(subject)).toEqual(expect.arrayContaining(["0.200 to 2.00", "0.0200", "Scan subject"]));
    expect(texts(staff)).toEqual(expect.arrayContaining(["0 to 20.0", "Staff", "Value / limit"]));
  });
  it("draws neither a bar nor a limit beside a line without a threshold, and says so in words", async () => {
    const [subject, animal] = panelsOf((await limitBarsFigure(data)).svg);
    expect(links(subject, "1.6")).toHaveLength(2);
    expect([links(animal, "1.6").length, links(animal, "9").length, links(animal, "2.4").length]).toEqual([0, 0, 0]);
    expect(texts(subject).filter((text) => text === unknown)).toHaveLength(1);
    expect(texts(animal)).toContain(unknown);
  });
  it("keeps classes apart and in the order that they came in", async () => {
    const { svg } = await limitBarsFigure(data);
    const heads = panelsOf(svg).map((panel) => texts(panel).find((text) => /^(Scan|Animal|Staff)/.test(text ?? "")));
    expect(heads).toEqual(["Scan subject", "Animal", "Staff"]);
    const [subject] = panelsOf(svg);
    const order = texts(subject).filter((text) => ["nerve stimulation", "heating", "iron dose"].includes(text ?? ""));
    expect(order).toEqual(["nerve stimulation", "heating", "iron dose"]);
  });
  it("uses greys alone, and ends with who decides", async () => {
    const { svg } = await limitBarsFigure(data);
    for (const [, r, g, b] of svg.matchAll(/#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})/g)) expect([g, b]).toEqual([r, r]);
    const { document } = parseHTML(svg);
    const words = "Research use; not a medical device. Local codes, ethics approval and licensed practice decide.";
    expect([...document.querySelectorAll("text")].at(-1)!.textContent).toBe(words);
    expect(document.querySelector("desc")!.textContent).toContain(
      "animal: nerve stimulation: no published threshold in our sources (invented source (2022 edition))",
    );
    expect(svg).not.toMatch(/\bsafe\b/i);
    expect(svg.match(/NaN|undefined|Infinity/)).toBeNull();
  });
  it("breaks long words before the bars begin, and keeps every number inside the figure", async () => {
    const words = { name: "a source ".repeat(40).trim(), edition: "an edition ".repeat(20).trim() };
    const long = { ...line("a limit whose name goes on and on ".repeat(4).trim(), 1e-4, 900), sources: [words] };
    const given = { value: "123 mV/m", limit: "45.6 mV/m" };
    const lines = [long, line("high", 700, 900), line("low", 1e-4, 2e-4)].map((each) => ({ ...each, ...given }));
    for (const width of [720, 480]) {
      const { svg } = await limitBarsFigure({ title: "t", groups: [{ class: "staff", lines }, groups[1]] }, { width });
      for (const panel of panelsOf(svg))
        for (const text of panel.querySelectorAll("text")) {
          const group = text.parentElement!;
          const shift = Number(/translate\((-?[\d.]+)/.exec(group.getAttribute("transform") ?? "")?.[1] ?? 0);
          const at = shift + Number(/translate\((-?[\d.]+)/.exec(text.getAttribute("transform") ?? "")?.[1] ?? 0);
          const rows = [...text.querySelectorAll("tspan")].map((row) => row.textContent!);
          const longest = Math.max(...(rows.length > 0 ? rows : [text.textContent!]).map((row) => row.length));
          const anchor = group.getAttribute("text-anchor");
          const start = anchor === "start" ? at : anchor === "end" ? at - 7.3 * longest : at - 3.65 * longest;
          const letter = group.getAttribute("font-size") === "11.5" ? 6.5 : 7.3;
          expect(start, text.textContent!).toBeGreaterThan(0);
          expect(start + letter * longest, text.textContent!).toBeLessThan(width);
        }
      // Nothing is cut.
      expect(svg).not.toContain("\u2026");
      const all = texts(panelsOf(svg)[0]).join(" ");
      for (const part of [long.label, words.name, `(${words.edition})`]) expect(all).toContain(part);
    }
  });
  it("gives value and limit in words beside the bar, and the value alone where there is no threshold", async () => {
    const lines = [
      { ...line("nerve stimulation", 1.153846, 3.100256), value: "12.0 mT", limit: "3.87 mT" },
      { ...line("heating", null, null), value: "259 mW/kg" },
    ];
    const { svg } = await limitBarsFigure({ title: "t", groups: [{ class: "scan subject", lines }] }, { width: 900 });
    const rows = [...parseHTML(svg).document.querySelectorAll("text")].map((text) =>
      [...text.querySelectorAll("tspan")].map((row) => row.textContent),
    );
    expect(rows).toContainEqual(["1.15 to 3.10", "12.0 mT of 3.87 mT"]);
    expect(rows).toContainEqual(["259 mW/kg:", unknown]);
    expect(svg).toContain("nerve stimulation: 12.0 mT of 3.87 mT, 1.15 to 3.10 (invented source (2022 edition))");
  });
  it("keeps its words off the line of the limit", async () => {
    // Right of its bar these words would lie across the line at 1.
    const lines = [
      { ...line("just below", 0.5, 0.9), value: "6.84 mT", limit: "7.60 mT" },
      line("far below", 1e-3, 1e-3),
    ];
    const [panel] = panelsOf((await limitBarsFigure({ title: "t", groups: [{ class: "staff", lines }] })).svg);
    const [[low]] = links(panel, "9");
    const group = [...panel.querySelectorAll('[aria-label="text"]')].find((each) =>
      /0\.500 to 0\.900/.test(each.textContent ?? ""),
    );
    expect(group?.getAttribute("text-anchor")).toBe("end");
    const [, right] = /translate\(([\d.]+)/.exec(group?.querySelector("text")?.getAttribute("transform") ?? "") ?? [];
    expect(Number(right)).toBeLessThan(low);
  });
  it("numbers the cautions and tells each once, below all bars", async () => {
    const source = (name: string, caution: string, edition = "2022") => ({ name, caution, edition });
    const lines = [
      { ...line("one", 0.2, 0.4), sources: [source("A", "an upper figure"), source("B", "of <pulses>")] },
      { ...line("two", 0.2, 0.2), sources: [source("C", "of <pulses>", "1999"), { name: "D" }] },
    ];
    const { svg } = await limitBarsFigure({ title: "t", groups: [{ class: "staff", lines }] });
    const [panel] = panelsOf(svg);
    expect(texts(panel)).toEqual(expect.arrayContaining(["A [1]; B [2] (each: 2022)", "C [2] (1999)", "D"]));
    const { document } = parseHTML(svg);
    const all = [...document.querySelectorAll("text")].map((text) => text.textContent);
    expect(all.slice(-5, -1)).toEqual(["[1]", "an upper figure", "[2]", "of <pulses>"]);
    expect(svg.match(/an upper figure|of &lt;pulses&gt;/g)).toHaveLength(2);
  });
  it("gives its ratios, empty where there is no threshold", async () => {
    const rows = figureCsv(await limitBarsFigure(data)).split("\r\n");
    expect(rows[0]).toContain("class [1: scan subject; 2: animal; 3: staff]");
    expect(rows.slice(1, 6)).toEqual(["1,1,0.2,2", "1,2,0.02,0.02", "1,3,,", "2,4,,", "3,5,0,20"]);
  });
  it.each([
    ["no line", [{ class: "staff" as const, lines: [] }], "one line or more"],
    ["a class twice", [groups[0], groups[0]], "scan subject for the second time"],
    ["half an interval", [{ class: "staff" as const, lines: [line("l", 1, null)] }], "ratios 1 and null"],
    ["an interval the wrong way round", [{ class: "staff" as const, lines: [line("l", 2, 1)] }], "ratios 2 and 1"],
    ["a ratio below zero", [{ class: "staff" as const, lines: [line("l", -1, 1)] }], "0 or above"],
    ["a ratio without end", [{ class: "staff" as const, lines: [line("l", 1, Infinity)] }], "0 or above"],
  ])("refuses %s", async (_, wrong, words) => {
    await expect(limitBarsFigure({ title: "t", groups: wrong })).rejects.toThrow(words);
  });
});
