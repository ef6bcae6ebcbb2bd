import { createResidentBooks } from './resident-books.ts';

/** What runs in the desk's thread: it stays, and keeps the books open between questions. */
export default createResidentBooks(() => performance.now());
