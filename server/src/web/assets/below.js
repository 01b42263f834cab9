// What a coach's page shows below the first look. It is asked for once that is drawn, and not only when somebody opens it:
// by then the link may be lost.

export { footPart } from "./foot.js";
export { moreList } from "./more.js";
