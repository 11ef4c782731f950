// The label of a delivery is scanned into its field as it is.

import { keepControls } from "/static/station/wedge.js";

keepControls(document.querySelector("input[name=label]"));
