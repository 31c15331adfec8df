import { Empty } from "../kit/states.tsx";
import type { RoomProps } from "../rooms.ts";

export default function DayRoom(_: RoomProps) {
  return <Empty>Day</Empty>;
}
