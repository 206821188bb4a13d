using Acquire.Analysis.Control;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Control;

public class AutocorrelationTests
{
    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, univariate, certified lag-1 autocorrelation")]
    public void Certified_values_are_reproduced()
    {
        Assert.Equal(0.535199668621283, Autocorrelation.Lag1(StrdSets.Michelso)!.Value, 1e-9);
        Assert.Equal(-0.307304800605679, Autocorrelation.Lag1(StrdSets.Lew)!.Value, 1e-13);
        Assert.Equal(-0.5, Autocorrelation.Lag1(StrdSets.NumAcc1)!.Value, 1e-15);
        Assert.Equal(-0.999, Autocorrelation.Lag1(StrdSets.NumAcc2)!.Value, 1e-12);
        Assert.Equal(-0.999, Autocorrelation.Lag1(StrdSets.NumAcc3)!.Value, 1e-8);
    }

    [Fact]
    public void Values_all_alike_have_none() => Assert.Null(Autocorrelation.Lag1([1, 1, 1, 1]));
}
