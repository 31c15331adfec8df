import { describe, expect, it } from "vitest";
import { createRandom } from "../../../../services/solver/random.ts";
import { type BoxPx, type LabelToPlace, placeLabels } from "../../../../services/web/app/map/labels.ts";

const view: BoxPx = { leftPx: 0, topPx: 0, widthPx: 900, heightPx: 500 };
const meet = (a: BoxPx, b: BoxPx) =>
  a.leftPx < b.leftPx + b.widthPx &&
  b.leftPx < a.leftPx + a.widthPx &&
  a.topPx < b.topPx + b.heightPx &&
  b.topPx < a.topPx + a.heightPx;

const nothing = { signs: [], ground: [] };

const label = (id: string, leftPx: number, topPx: number, more: Partial<LabelToPlace> = {}): LabelToPlace => ({
  id,
  of: { leftPx, topPx, widthPx: 10, heightPx: 10 },
  widthPx: 80,
  heightPx: 18,
  weight: 1,
  isUpon: false,
  isNeeded: false,
  ...more,
});
const boxOf = ({ heightPx, widthPx }: LabelToPlace, place: { leftPx: number; topPx: number }): BoxPx => ({
  ...place,
  widthPx,
  heightPx,
});

describe("labels on a map", () => {
  it("never cover each other nor what they should not, and none is left out that has room", () => {
    const random = createRandom(7);
    for (let round = 0; round < 20; round++) {
      const labels = Array.from({ length: 120 }, (_, at) =>
        label(`L${at}`, random() * 880, random() * 480, { weight: Math.floor(random() * 5), isUpon: at % 9 === 0 }),
      );
      const notToCover = labels.map(({ of }) => of);
      const placed = placeLabels(labels, { signs: notToCover, ground: [] }, view);
      const boxes = labels.flatMap((one) => {
        const place = placed.get(one.id);
        return place ? [{ one, box: boxOf(one, place) }] : [];
      });
      expect(boxes.length).toBeGreaterThan(10);
      expect(boxes.length).toBeLessThan(120);
      for (const [at, { box, one }] of boxes.entries()) {
        expect(boxes.slice(at + 1).filter(({ box: other }) => meet(box, other))).toEqual([]);
        expect([
          box.leftPx >= 0,
          box.topPx >= 0,
          box.leftPx + box.widthPx <= 900,
          box.topPx + box.heightPx <= 500,
        ]).not.toContain(false);
        if (!one.isUpon) expect(notToCover.filter((other) => meet(box, other))).toEqual([]);
      }
      // To the right of its thing, the first choice, would each that was left out lie on something.
      for (const one of labels.filter(({ id, isUpon }) => !isUpon && !placed.has(id))) {
        const right = { leftPx: one.of.leftPx + 13, topPx: one.of.topPx - 4, widthPx: 80, heightPx: 18 };
        const others = [...boxes.map(({ box }) => box), ...notToCover.filter((box) => box !== one.of)];
        const isCut = right.leftPx + 80 > 900 || right.topPx < 0 || right.topPx + 18 > 500;
        expect(isCut || others.some((other) => meet(right, other))).toBe(true);
      }
    }
  });

  it("of two that want one place the heavier has it, whatever the order", () => {
    const light = label("light", 100, 100, { isUpon: true });
    const heavy = label("heavy", 102, 101, { isUpon: true, weight: 2 });
    expect([...placeLabels([light, heavy], nothing, view).keys()]).toEqual(["heavy"]);
    expect([...placeLabels([heavy, light], nothing, view).keys()]).toEqual(["heavy"]);
  });

  it("cover ground where they are needed and have no other place, signs never", () => {
    const all = [{ leftPx: 0, topPx: 0, widthPx: 900, heightPx: 500 }];
    const needed = label("needed", 400, 200, { isNeeded: true });
    expect([...placeLabels([label("other", 400, 200), needed], { signs: [], ground: all }, view).keys()]).toEqual([
      "needed",
    ]);
    expect(placeLabels([needed], { signs: all, ground: [] }, view).size).toBe(0);
  });

  it("lie within the view or nowhere, and in their thing where it is large enough", () => {
    const [place] = placeLabels([label("edge", 885, 200)], nothing, view).values();
    expect(place!.leftPx + 80).toBeLessThanOrEqual(885);
    const narrow = { ...view, widthPx: 70 };
    expect(placeLabels([label("cut", 30, 200)], nothing, narrow).size).toBe(0);
    const large = label("large", 300, 300, { of: { leftPx: 300, topPx: 300, widthPx: 200, heightPx: 100 } });
    expect(placeLabels([large], nothing, view).get("large")).toEqual({ leftPx: 360, topPx: 341 });
  });
});
