package job

import "slipseat/engine/unit"

// Codes of the faults of reading a file. Where.Field holds the path of the
// place, such as "seats[2].outline.front_width", as does the argument key.
const (
	CodeNotJSON    = "file.not-a-job"
	CodeNoFormat   = "file.no-format"
	CodeNewer      = "file.newer-version"
	CodeTooBig     = "file.too-big"
	CodePicture    = "file.bad-picture"
	CodeTooDeep    = "file.too-deep"
	CodeType       = "file.wrong-type"
	CodeMissing    = "file.key-missing"
	CodeTwice      = "file.key-twice"
	CodeTooMany    = "file.too-many"
	CodeTextLength = "file.text-too-long"
	CodeFileRange  = "file.out-of-range"
	CodeBadID      = "file.bad-id"
	CodeSameID     = "file.same-id-twice"
	CodeBadLay     = "file.bad-lay"
)

// Codes of the faults of a value, wherever it comes from.
const (
	CodeChoice   = "value.choice"
	CodePercent  = "value.percent"
	CodeShare    = "value.share-too-large"
	CodeMoney    = "value.money"
	CodeNumber   = "value.number"
	CodeRange    = "value.number-out-of-range"
	CodeText     = "value.text"
	CodeSign     = "value.text-sign"
	CodeTooLarge = "value.too-large"
	CodeCountry  = "value.country"
	CodeCurrency = "value.currency"
	CodeForce    = "value.force"
	CodeDensity  = "value.density"
	CodeSwitch   = "value.switch"
)

// Codes of the faults of a job and of changing it.
const (
	CodeNoObject = "edit.object-gone"
	CodeNoField  = "edit.field-unknown"
	CodeNoGoods  = "job.goods-gone"
	CodeNoSeats  = "job.no-seats"
	CodeNoCover  = "job.no-cover"
	CodeNoFoam   = "job.no-foam"
	CodeLockSeat = "job.lock-without-seat"
	CodeFlaw     = "job.flaw-order"
	// CodeSameNumber: two single seats have one number; CodeGlueSeat: a glue-up
	// of a seat or a layer that is gone.
	CodeSameNumber = "job.own-number-twice"
	CodeGlueSeat   = "job.glue-up-without-seat"
)

// fault is short for a fault without a place.
func fault(code string, args ...unit.Arg) *unit.Fault {
	return &unit.Fault{Code: code, Args: args}
}

// asFault takes a Fault out of an error of the unit package.
func asFault(err error) *unit.Fault {
	if err == nil {
		return nil
	}
	f := err.(unit.Fault)
	return &f
}
