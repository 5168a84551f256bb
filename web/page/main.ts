// The page begins here: a desk that is sealed is opened first.
import { unlocked } from "./seal";

void unlocked().then(() => import("./app"));
