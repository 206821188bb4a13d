using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Judgement;

public class WholeStripTests
{
    private static ParameterResult With(double inside) => new()
    {
        Parameter = Some.C41.Get("ld"),
        Channel = Channel.Red,
        Verdict = new VerdictResult(Verdicts.Of(inside), new Limit(-0.08, 0.08, "invented"), inside, null, 0.95),
    };

    private static WholeStrip Of(params double[] inside) => WholeStrip.Of([.. inside.Select(With)])!;

    [Fact]
    [Trait("Source", "By hand: 1 − 0.95^(1/10) = 0.0051; 1 − 0.95^(1/9) = 0.0057 (Holm's steps with Šidák's levels)")]
    public void Out_is_asked_of_all_results_at_once()
    {
        double[] rest = [.. Enumerable.Repeat(0.99, 8)];

        Assert.Equal(Verdict.OutOfControl, Of([0.0050, 0.99, .. rest]).Verdict);
        Assert.Equal(Verdict.Undecided, Of([0.0053, 0.99, .. rest]).Verdict);
        Assert.Equal(2, Of([0.0050, 0.0056, .. rest]).Out.Length);
        Assert.Single(Of([0.0050, 0.0060, .. rest]).Out);
        Assert.Single(Of([0.0050, 0.0060, .. rest]).Open);
    }

    [Fact]
    public void In_is_every_result_by_itself()
    {
        Assert.Equal(Verdict.InControl, Of(0.96, 0.95, 0.99).Verdict);
        Assert.Equal(Verdict.Undecided, Of(0.96, 0.94, 0.99).Verdict);
        Assert.Null(WholeStrip.Of([]));
    }

    [Fact]
    public void One_result_is_called_as_it_would_be_alone() => Assert.Equal(Verdict.OutOfControl, Of(0.05).Verdict);

    [Fact]
    public void Words_say_what_a_test_would_change_and_nothing_where_nothing_is_assumed()
    {
        var once = StripJudge.Judge(Some.Strip(Some.Patches(Some.Densities)));
        var ld = once.Result("ld", Channel.Red);

        Assert.Equal("rests on an assumed repeatability and an assumed zero", AssumptionWords.Rests(once.RestsOnAssumption));
        Assert.Contains("0.010", AssumptionWords.What(once.RestsOnAssumption, Assumptions.Default), StringComparison.Ordinal);
        Assert.Matches(
            @"if it repeats to 0\.005, .* ±0\.0\d\d and not ±0\.04\d", AssumptionWords.WhatATestChanges(ld, Assumptions.Default));
        Assert.Null(AssumptionWords.Rests(Assumed.None));
        Assert.Null(AssumptionWords.What(Assumed.None, Assumptions.Default));
    }
}
