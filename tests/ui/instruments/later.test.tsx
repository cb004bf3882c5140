import { render, screen } from "@testing-library/react";
import { Suspense } from "react";
import { expect, it } from "vitest";
import { later } from "../../../src/ui/instruments/later";

const Missing = later<{ readonly onClose?: () => void }>(() =>
  Promise.reject(new Error("no network")),
);
const There = later(() => Promise.resolve({ default: () => <p>here it is</p> }));

it("a part that cannot be fetched says so in its own place, and all else stays", async () => {
  render(
    <Suspense fallback={null}>
      <p>the bench</p>
      <Missing />
      <There />
    </Suspense>,
  );
  expect(await screen.findByRole("alert")).toHaveTextContent("could not be fetched");
  expect(screen.getByText("the bench")).toBeVisible();
  expect(screen.getByText("here it is")).toBeVisible();
});

it("what was opened by hand can be closed again", async () => {
  let closed = 0;
  render(
    <Suspense fallback={null}>
      <Missing onClose={() => closed++} />
    </Suspense>,
  );
  (await screen.findByRole("button", { name: "Close" })).click();
  expect(closed).toBe(1);
});
