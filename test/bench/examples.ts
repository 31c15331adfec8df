import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { listRouteIds } from "../../services/api/resourceIds.ts";
import { listResources } from "../../shared/model/resources.ts";
import { openHouse } from "./examples/house.ts";
import { createRecorder } from "./examples/record.ts";
import { tidy } from "./examples/tidy.ts";
import { tour } from "./examples/tour.ts";

const file = join(import.meta.dirname, "../../scenarios/api-examples.json");

/** Writes the examples that the OpenAPI document shows: what a real service answered on the small scenario. */
export async function recordExamples(): Promise<void> {
  const house = await openHouse();
  try {
    const { examples, call } = createRecorder(house.origin);
    await tour(call, house.store);
    // Nearly everything is needed by something else in so small an operation, so what comes of taking it away is shown of an order.
    for (const { remove } of listResources.map(listRouteIds)) examples[remove] ??= examples.deleteOrder!;
    const tidied = tidy(examples);
    const lines = Object.entries(tidied).map(([id, example]) => `${JSON.stringify(id)}: ${JSON.stringify(example)}`);
    writeFileSync(file, `{\n${lines.join(",\n")}\n}\n`);
    console.log(`${lines.length} examples`);
  } finally {
    await house.close();
  }
}
