import { useState } from "react";
import type { OrderView } from "../../../../../shared/plan/weekOrders.ts";
import { pathOf, Refusal } from "../../api/call.ts";
import { Failure } from "../../kit/states.tsx";
import { replanWords as words } from "../../strings/replan.ts";
import { takeThing } from "./changeThing.ts";

/** Takes an order out of the operation. */
export function WithdrawOrder({
  onStored,
  operationId,
  orders,
}: {
  readonly operationId: string;
  readonly orders: readonly OrderView[];
  readonly onStored: (sentence: string) => void;
}) {
  const [orderId, setOrderId] = useState("");
  const [gone, setGone] = useState<readonly string[]>([]);
  const [error, setError] = useState<Error | null>(null);
  const withdraw = () => {
    setError(null);
    const order = orders.find(({ id }) => id === orderId);
    takeThing(pathOf`/api/operations/${operationId}/orders/${orderId}`).then(() => {
      setGone((before) => [...before, orderId]);
      setOrderId("");
      onStored(words.orderOut(order?.fieldName ?? orderId, orderId));
    }, setError);
  };
  return (
    <form
      className="formRow"
      onSubmit={(event) => {
        event.preventDefault();
        withdraw();
      }}
    >
      <label>
        {words.withdrawOrder}
        <select value={orderId} onChange={({ target }) => setOrderId(target.value)}>
          <option value="">{words.chooseOrder}</option>
          {orders
            .filter(({ id }) => !gone.includes(id))
            .map(({ fieldName, grower, id }) => (
              <option key={id} value={id}>
                {fieldName}, {grower} ({id})
              </option>
            ))}
        </select>
      </label>
      <button type="submit" disabled={orderId === ""}>
        {words.withdraw}
      </button>
      {error instanceof Refusal && error.status === 412 && <p className="wide bad">{words.changedMeanwhile}</p>}
      {error !== null && <Failure error={error} />}
    </form>
  );
}
