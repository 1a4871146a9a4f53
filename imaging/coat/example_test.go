package coat_test

import (
	"fmt"

	"undercoat/assets"
	"undercoat/imaging/coat"
)

// demoStack is the stack of the demo job.
func demoStack() coat.Stack {
	data, _ := assets.Stack(assets.DemoStack)
	stack, err := coat.ReadStack(data)
	if err != nil {
		panic(err)
	}
	return stack
}

// What shows on an even field at three doses.
func ExampleStack_Compile() {
	model, err := demoStack().Compile(coat.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, dose := range []float64{30, 60, 150} {
		shown := model.ShowThrough(dose)
		fmt.Printf("%.0f J/cm2 burns %2.0f um deep:", dose, shown.DepthUM)
		for _, share := range shown.Coverage {
			fmt.Printf(" %3.0f %%", 100*share)
		}
		fmt.Println("", shown.Look.Stored())
	}
	// Output:
	// 30 J/cm2 burns 11 um deep: 100 %   0 %   0 %   0 % #2b2e31
	// 60 J/cm2 burns 37 um deep:   3 %  94 %   3 %   0 % #377b7d
	// 150 J/cm2 burns 86 um deep:   0 %   0 %  11 %  89 % #f2e9db
}

// A second pass of the top coat moves its break-through, and that of all below it,
// along the same curve.
func ExampleStack_WithSecondPass() {
	stack := demoStack()
	thicker, err := stack.WithSecondPass(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range []coat.Stack{stack, thicker} {
		model, err := s.Compile(coat.Options{})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f um of %s give way at %.0f J/cm2\n", s.Coats[0].ThicknessUM, s.Coats[0].Name, model.BreakThrough(0))
	}
	// Output:
	// 25 um of graphite give way at 45 J/cm2
	// 50 um of graphite give way at 80 J/cm2
}

// A reading error names the value by its path in the file.
func ExampleReadStack() {
	_, err := coat.ReadStack([]byte(`{"kind":"undercoat-stack","version":1,"name":"x","coats":[{"name":"a","colour":"#000000","thickness_um":-3}],
		"ground":{"name":"g","colour":"#ffffff"},"curve":{"calibrated":false,"points":[{"dose_j_per_cm2":20,"depth_um":0},{"dose_j_per_cm2":45,"depth_um":25}],"spread":[0.1]}}`))
	fmt.Println(err)
	// Output:
	// stack file: coats[0].thickness_um is -3: it must be above 0 and at most 5000 um
}
