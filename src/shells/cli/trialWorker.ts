/** A thread of Node that runs cases of trials. */
import { parentPort } from "node:worker_threads";
import { serveTrials } from "../trials/serve";

const take = serveTrials((message) => parentPort?.postMessage(message));
parentPort?.on("message", take);
