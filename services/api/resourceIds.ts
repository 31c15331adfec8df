import type { ListResource, WholeResource } from "../../shared/model/resource.ts";

export const joinedWords = (words: string) =>
  words
    .split(/[ -]/)
    .map((word) => `${word[0]!.toUpperCase()}${word.slice(1)}`)
    .join("");

/** Ids of a list's routes. */
export function listRouteIds({ name, one }: Pick<ListResource, "name" | "one">) {
  const [many, single] = [joinedWords(name), joinedWords(one)];
  return { list: `list${many}`, read: `read${single}`, put: `put${single}`, remove: `delete${single}` };
}

export function wholeRouteIds({ name }: Pick<WholeResource, "name">) {
  return { read: `read${joinedWords(name)}`, put: `put${joinedWords(name)}` };
}
