package drawing

// TextWidth is the estimate that the layout goes by.
var TextWidth = textWidth
