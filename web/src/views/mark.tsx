/** Our mark: rounds worked from the middle. */
export const MARK = (
  <svg class="mark" viewBox="0 0 32 32" aria-hidden="true">
    <path d="M13 16a3 3 0 1 1 6 0a6 6 0 1 1-11 2a9 9 0 1 0 9-11" />
  </svg>
);
