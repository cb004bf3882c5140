/** The head of a table whose columns have plain words over them, each word once. */
export function ColumnHeads({ words }: { readonly words: readonly string[] }) {
  return (
    <thead>
      <tr>
        {words.map((word) => (
          <th key={word} scope="col">
            {word}
          </th>
        ))}
      </tr>
    </thead>
  );
}
