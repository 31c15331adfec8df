import type { ConflictView } from "../../../shared/plan/weekOrders.ts";
import type { WeekView } from "../../../shared/plan/weekView.ts";
import { counted, hectares, readable } from "../../../shared/plan/words.ts";
import { el } from "./dom.ts";

/** The most urgent first. */
const ranks: readonly ConflictView["priority"][] = ["mandatory", "high", "normal", "low"];
const rankOf = ({ priority }: ConflictView) => ranks.indexOf(priority);
const isUrgent = (conflict: ConflictView) => rankOf(conflict) < ranks.indexOf("normal");

/** What is not planned and why, by reason; a reason stands open when something urgent is under it. */
export function conflictPanel(week: WeekView): HTMLElement {
  const lost = week.orderedHa - week.servedHa;
  return el(
    "aside",
    { class: "conflicts", "aria-labelledby": "conflictsTitle" },
    el("h2", { id: "conflictsTitle" }, "Not planned"),
    el(
      "p",
      { class: "quiet" },
      week.conflicts.length === 0
        ? "Every order has its place."
        : `${counted(week.conflicts.length, "conflict", "conflicts")}, ${hectares(lost)} ha. Reasons that stop a mandatory or high order stand open.`,
    ),
    ...week.conflictsByKind.map(({ areaHa, count, kind, words }) => {
      const conflicts = week.conflicts
        .filter((conflict) => conflict.kind === kind)
        .sort((a, b) => rankOf(a) - rankOf(b) || b.areaHa - a.areaHa);
      return el(
        "details",
        { class: "kind", ...(conflicts.some(isUrgent) ? { open: "" } : {}) },
        el("summary", {}, el("span", {}, words), el("span", { class: "count" }, kindAmount(count, areaHa))),
        el("ul", {}, ...conflicts.map(conflictItem)),
      );
    }),
  );
}

function kindAmount(count: number, areaHa: number): string {
  const orders = counted(count, "order", "orders");
  return areaHa > 0 ? `${orders}, ${hectares(areaHa)} ha` : orders;
}

function conflictItem(conflict: ConflictView): HTMLElement {
  const evidence = Object.entries(conflict.evidence);
  return el(
    "li",
    {},
    el(
      "p",
      { class: "conflictHead" },
      el("strong", {}, conflict.orderId),
      ` ${conflict.fieldName}, ${conflict.grower}`,
      conflict.priority === "normal"
        ? null
        : el("span", { class: isUrgent(conflict) ? "priority urgent" : "priority" }, conflict.priority),
    ),
    el("p", {}, conflict.sentence),
    evidence.length === 0
      ? null
      : el(
          "details",
          { class: "evidence" },
          el("summary", {}, "What was measured"),
          el(
            "dl",
            {},
            ...evidence.flatMap(([name, value]) => [el("dt", {}, spacedWords(name)), el("dd", {}, valueWords(value))]),
          ),
        ),
  );
}

/** `windMaxKph` as `wind max kph`: evidence is named as in the plan's document. */
function spacedWords(name: string): string {
  return name.replace(/([a-z])([A-Z])/g, "$1 $2").toLowerCase();
}

function valueWords(value: unknown): string {
  if (typeof value === "number") return readable(value);
  if (typeof value === "string") return value;
  if (Array.isArray(value)) return value.map(valueWords).join(", ");
  if (typeof value === "object" && value !== null) {
    return Object.entries(value)
      .map(([name, part]) => `${spacedWords(name)} ${valueWords(part)}`)
      .join(", ");
  }
  return String(value);
}
