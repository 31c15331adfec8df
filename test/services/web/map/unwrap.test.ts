import { describe, expect, it } from "vitest";
import { middleDegOf, nearDeg, unwrapped, widthByHeight, wrapped } from "../../../../services/web/app/map/unwrap.ts";

describe("a flat map across the antimeridian", () => {
  it("takes the short way round", () => {
    // RFC 7946, section 5.2: the islands between 177 degrees east and 178 degrees west cover 5 degrees of longitude.
    const islands = [177, -20, -178, -16] as const;
    const [west, south, east, north] = unwrapped(islands);
    expect(east - west).toBe(5);
    expect([south, north]).toEqual([-20, -16]);
    expect(middleDegOf(islands)).toBe(179.5);
    expect(nearDeg(-178, 179.5)).toBe(182);
    expect(nearDeg(177, 179.5)).toBe(177);
  });

  it("leaves everything else where it is", () => {
    expect(unwrapped([-0.6, 41.7, -0.3, 41.8])).toEqual([-0.6, 41.7, -0.3, 41.8]);
    expect(nearDeg(-0.4, middleDegOf([-0.6, 41.7, -0.3, 41.8]))).toBe(-0.4);
  });

  it("is as wide to its height as the ground", () => {
    // At 60 degrees a degree of longitude is half as long as one of latitude.
    expect(widthByHeight([10, 59, 14, 61])).toBeCloseTo(1, 9);
    expect(widthByHeight([179, -1, -179, 1])).toBeCloseTo(1, 9);
    expect(widthByHeight([10, 50, 10, 50])).toBe(1);
  });

  it("gives positions back as they are written", () => {
    expect(wrapped([182, -17])).toEqual([-178, -17]);
    expect(wrapped([-181.5, 3])).toEqual([178.5, 3]);
    expect(wrapped([12, 3])).toEqual([12, 3]);
  });
});
