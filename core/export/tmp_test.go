package export
import (
 _ "github.com/emersion/go-ical"
 _ "github.com/xuri/excelize/v2"
)
