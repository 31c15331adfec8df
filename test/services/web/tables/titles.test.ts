import { describe, expect, it } from "vitest";
import { optionsIn } from "../../../../services/web/app/kit/form/context.ts";
import { placeWords } from "../../../../services/web/app/kit/thing/placeWords.ts";
import { titlesOf } from "../../../../services/web/app/kit/thing/titles.ts";
import { valueWords } from "../../../../services/web/app/kit/thing/words.ts";
import { richOperation } from "../../../support/richOperation.ts";

describe("things", () => {
  const operation = richOperation();
  const [base] = operation.settings.bases;
  const product = operation.products[0]!;

  it("are called by their names, and by their ids where they have none", () => {
    const [order] = operation.orders;
    const [field] = operation.fields.features;
    expect(titlesOf("orders", operation).get(order!.id)).toBe(order!.id);
    expect(titlesOf("fields", operation).get(field!.properties.id)).toBe(field!.properties.name);
    expect(titlesOf("bases", operation).get(base!.id)).toBe(base!.name);
    const [stock] = operation.fleet.batteryStocks;
    const type = operation.fleet.aircraftTypes.find(({ id }) => id === stock!.aircraftTypeId)!;
    const home = operation.settings.bases.find(({ id }) => id === stock!.baseId)!;
    expect(titlesOf("battery-stocks", operation).get(`${home.id}:${type.id}`)).toBe(`${type.name}, ${home.name}`);
  });

  it("have their ids behind names that two of them have", () => {
    const twin = { ...product, id: "twin" as typeof product.id };
    const doubled = { ...operation, products: [...operation.products, twin] };
    expect(titlesOf("products", doubled).get("twin")).toBe(`${product.name} (twin)`);
    expect(titlesOf("products", doubled).get(product.id)).toBe(`${product.name} (${product.id})`);
    const words = optionsIn(doubled, "products").map((option) => option.words);
    expect(new Set(words).size).toBe(words.length);
    expect(
      optionsIn(operation, "bases")
        .map((option) => option.words)
        .sort(),
    ).toEqual(operation.settings.bases.map(({ name }) => name).sort());
  });

  it("have places that read as forms do", () => {
    expect(placeWords(["products", 0, "ratePerHa"])).toBe("Products, 1, Rate");
    expect(placeWords(["fields", "features", 2, "properties", "name"])).toBe("Fields, 3, Name");
    expect(placeWords([])).toBe("");
  });

  it("stand where people would say, latitude first", () => {
    const facts = {} as Parameters<typeof valueWords>[3];
    const shape = { oneOf: [] };
    const wordsOf = (coordinates: unknown) => valueWords("geometry", shape, { coordinates }, facts, []);
    expect(wordsOf([-0.33, 41.7])).toBe("41.70000°, -0.33000°");
    expect(
      wordsOf([
        [-0.33, 41.7, 12],
        [-0.34, 41.8],
      ]),
    ).toBe("41.70000°, -0.33000° to 41.80000°, -0.34000°");
  });
});
