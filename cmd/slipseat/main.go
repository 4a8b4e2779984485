// Command slipseat opens the window.
package main

import (
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/widget"
)

func main() {
	a := app.NewWithID("net.slipseat.app")
	w := a.NewWindow("Slipseat")
	w.SetContent(widget.NewLabel("Slipseat"))
	w.ShowAndRun()
}
