// The thread that makes a brief: bout files in, the brief and what was planned from it out.

import { parentPort } from "node:worker_threads";
import { failure } from "../bout/result";
import type { Brief } from "../figures/brief";
import { BriefBouts } from "./brief-bouts";
import type { AskedOfThread, FromBriefThread } from "./brief-thread";

const bouts = new BriefBouts();
let made: Brief | undefined;
// One after another: what is asked next may rest on the answer before.
let turn: Promise<unknown> = Promise.resolve();

parentPort?.on("message", (message: AskedOfThread) => {
  turn = turn.then(() => answer(message));
});

async function answer({ ask, ...message }: AskedOfThread): Promise<void> {
  const say = (said: FromBriefThread) => parentPort?.postMessage(said);
  try {
    switch (message.do) {
      case "brief": {
        const { files, fencer, against, afresh } = message;
        if (afresh) bouts.forget();
        let told = Date.now();
        const brief = await bouts.brief(files, fencer, against, (done, of) => {
          if (Date.now() - told < 100) return;
          told = Date.now();
          say({ ask, is: "progress", done, of });
        });
        made = brief.ok ? brief.value.brief : undefined;
        say({ ask, is: "answer", answer: brief });
        break;
      }
      case "plan":
        say({
          ask,
          is: "answer",
          answer:
            made === undefined
              ? failure("there is no brief yet")
              : { ok: true, value: bouts.plan(made, message.plan, message.folder) },
        });
        break;
      case "named":
        say({ ask, is: "answer", answer: { ok: true, value: bouts.named(message.evidence) } });
        break;
    }
  } catch (error) {
    say({ ask, is: "answer", answer: failure(error instanceof Error ? error.message : String(error)) });
  }
}
