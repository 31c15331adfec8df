import { startDemoServer } from "../support/demoServer.ts";
import type { DemoAsk } from "../support/fillDemo.ts";

/** Keeps the demo server running until it is interrupted. */
export async function keepDemoServer(ask: DemoAsk): Promise<void> {
  const demo = await startDemoServer(ask);
  console.log(`The screens are at ${demo.origin}`);
  for (const [role, { name, password }] of Object.entries(demo.people)) console.log(`${role}: ${name} ${password}`);
  console.log(`published plan ${demo.planId}, draft ${demo.draftId}`);
  console.log(`operation ${demo.operationId}, ${demo.crewId} on ${demo.date}`);
  await new Promise((resolve) => process.once("SIGINT", resolve).once("SIGTERM", resolve));
  await demo.close();
}
