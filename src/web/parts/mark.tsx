/** The product's own sign: a panel above a strip of tape. */
export function Mark() {
  return (
    <svg viewBox="0 0 32 32" aria-hidden="true">
      <rect width="32" height="32" rx="3" fill="#14323f" />
      <path d="M4 22c1-9 8-14 24-14v14z" fill="#fff" />
      <path d="M4 25.5h24" stroke="#f4c430" stroke-width="4" />
      <path d="M14 22c0-6 2-9 6-11" fill="none" stroke="#14323f" stroke-width="1.6" />
    </svg>
  );
}
