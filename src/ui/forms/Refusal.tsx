/** Why a button or a choice did nothing, as a paragraph of its own; nothing where it was done. */
export function Refusal({ words }: { readonly words: string }) {
  if (words === "") return null;
  return (
    <p className="field-says" role="alert">
      {words}
    </p>
  );
}
