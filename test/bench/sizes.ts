import { builtScreens } from "../support/builtScreens.ts";
import { pageSizes, type Sizes } from "../support/pageSizes.ts";

const kilobytes = (bytes: number) => (bytes / 1000).toFixed(1).padStart(9);
const line = (name: string, { imageBytes, scriptBytes, styleBytes }: Sizes) =>
  `${name.padEnd(22)}${[scriptBytes, styleBytes, imageBytes].map(kilobytes).join("")}`;

/** What a browser has to fetch, in kB as it goes out. */
export async function tellSizes(): Promise<void> {
  const { all, page, parts } = await pageSizes(await builtScreens());
  console.log("kB, compressed           script    style   images");
  console.log(line("before any room", page));
  for (const [name, sizes] of [...parts].sort(([a], [b]) => a.localeCompare(b)))
    console.log(line(`and ${name}`, sizes));
  console.log(line("all that is built", all));
}
