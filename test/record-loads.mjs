// Preloaded into a command under test: writes down the URL of every module that is loaded.
import { register } from "node:module";

register("./record-loads-hook.mjs", import.meta.url);
