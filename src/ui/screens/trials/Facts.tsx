/** A few figures side by side, each under its name. */
export function Facts({
  facts,
}: {
  readonly facts: readonly (readonly [name: string, words: string])[];
}) {
  return (
    <dl className="facts">
      {facts.map(([name, words]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{words}</dd>
        </div>
      ))}
    </dl>
  );
}
