/** What the file opened last has to say: why it was not taken, or what was changed and may surprise where it was. */

export interface FileWordsProps {
  readonly problems: readonly string[];
  readonly notices: readonly string[];
  readonly onDismiss: () => void;
}

export function FileWords({ problems, notices, onDismiss }: FileWordsProps) {
  const dismiss = (
    <button type="button" className="button" onClick={onDismiss}>
      Dismiss
    </button>
  );
  return (
    <div className="file-words">
      {problems.length > 0 && (
        <div className="message problem" role="alert">
          <p>Not opened; the station is as it was.</p>
          {dismiss}
          <WordList words={problems} />
        </div>
      )}
      <div role="status">
        {notices.length > 0 && (
          <div className="message opened">
            <p>
              <b>Taken with changes.</b>
            </p>
            {dismiss}
            <WordList words={notices} />
          </div>
        )}
      </div>
    </div>
  );
}

function WordList({ words }: { readonly words: readonly string[] }) {
  return (
    <ul>
      {words.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
