/**
 * Parts of the page that are fetched when they are first wanted. One that cannot be fetched says so in its own place: the
 * bench and its run stand as they were.
 */
import { type ComponentType, type LazyExoticComponent, lazy } from "react";

/** A component that `load` fetches; wants a Suspense round it. */
export function later<Props extends object>(
  load: () => Promise<{ readonly default: ComponentType<Props> }>,
): LazyExoticComponent<ComponentType<Props>> {
  return lazy(() => load().catch(() => ({ default: NotFetched as ComponentType<Props> })));
}

function NotFetched({ onClose }: { readonly onClose?: () => void }) {
  return (
    <div className={onClose === undefined ? "not-fetched" : "not-fetched over"} role="alert">
      <p>
        <b>Not shown.</b> This part of the page could not be fetched. See that the network is there;
        then save the project and load the page again.
      </p>
      {onClose !== undefined && (
        <button type="button" className="button" onClick={onClose}>
          Close
        </button>
      )}
    </div>
  );
}
