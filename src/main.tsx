/** Starts the page and does nothing else, so that tests never need to import it. */
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./ui/App";

const root = document.getElementById("root");
if (root === null) throw new Error("index.html has no element with id root");
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
