export default function TubeFitSheet({ onClose }: { readonly onClose: () => void }) {
  return (
    <button type="button" onClick={onClose}>
      Close
    </button>
  );
}
