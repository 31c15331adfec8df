import { describe, expect, it } from "vitest";
import { loadsFewest, productInLoad } from "../../../shared/fieldwork/loads.ts";

describe("loads", () => {
  it("are whole: 300 L in tanks of 40 L are 7.5, so 8; 280 L are 7", () => {
    expect(loadsFewest(300, 40)).toBe(8);
    expect(loadsFewest(280, 40)).toBe(7);
  });

  it("are not one more because of rounding, 0.1 + 0.2 of 0.3, and never none", () => {
    expect(loadsFewest(0.1 + 0.2, 0.3)).toBe(1);
    expect(loadsFewest(0, 40)).toBe(1);
  });

  it("product in a load of 800 L, 200 mL/ha in 100 L/ha: 1600 mL (extension mixing example)", () => {
    expect(productInLoad(800, 200, 100)).toBe(1600);
  });
});
