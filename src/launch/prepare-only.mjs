/** Makes the clone ready and stops: for images and for the first step of a deployment. */
import { prepare, say } from './prepare.mjs';

try {
  prepare();
  say('ready');
} catch (error) {
  say(error.message);
  process.exit(1);
}
