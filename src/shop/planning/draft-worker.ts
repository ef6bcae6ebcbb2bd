import { draftTask } from './draft-task.ts';

/** What runs in the worker thread. */
export default draftTask;
