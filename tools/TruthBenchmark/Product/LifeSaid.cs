using Acquire.Analysis.Life;

namespace TruthBenchmark.Product;

internal enum LifeKind
{
    /// <summary>Nothing is said of how long.</summary>
    Nothing,

    /// <summary>A life from day to day.</summary>
    Named,

    /// <summary>It holds so many days at least.</summary>
    AtLeast,

    /// <summary>It is past a limit from the start.</summary>
    PastFromStart,

    /// <summary>The program ended with a fault instead of an answer.</summary>
    Crashed,
}

/// <summary>The answer to "how long does it last", as a user reads it.</summary>
/// <param name="Lower">First day of the interval, or the days that it holds at least.</param>
/// <param name="Conditional">Whether what lies beyond the strips is said as "if it goes on like this" only.</param>
/// <param name="Parameter">The parameter that it is about; null for none.</param>
/// <param name="Doubts">What is said to make it less sure.</param>
/// <param name="Changed">The sentence on what changed most.</param>
internal sealed record LifeSaid(
    LifeKind Kind, double Lower, double Upper, bool Conditional, string? Parameter, string Doubts, string Changed)
{
    public bool Holds(double truth) => Kind switch
    {
        LifeKind.Nothing or LifeKind.Crashed => true,
        LifeKind.Named => Lower <= truth && truth <= Upper,
        LifeKind.AtLeast => Lower <= truth,
        _ => truth <= 0,
    };

    /// <summary>Whether it is said, without an if, that it holds longer than it does.</summary>
    public bool PromisesBeyond(double truth) => !Conditional && Kind is (LifeKind.Named or LifeKind.AtLeast) && Lower > truth;

    public static LifeSaid Of(Desk desk) => Of(LifeStudy.Of(desk.Points(), Records.Sheet));

    public static LifeSaid Of(LifeStudy study)
    {
        var changed = LifeWords.WhatChangedMost(study);
        if (study.Governing is { Days: { } days } governing)
        {
            return new LifeSaid(
                LifeKind.Named, days.Lower, days.Upper, false, governing.Key.ParameterKey, string.Join(' ', governing.Doubts), changed);
        }

        if (study.Answers.FirstOrDefault(a => a.OutsideFromStart is not null) is { } outside)
        {
            return new LifeSaid(LifeKind.PastFromStart, 0, 0, false, outside.Key.ParameterKey, "", changed);
        }

        return study.Answers.Where(a => a.Model is not null).MinBy(
            a => a.AtLeastDays) is { HoldsAWhile: true, AtLeastDays: { } least } safest
            ? new LifeSaid(LifeKind.AtLeast, least, double.PositiveInfinity, false, safest.Key.ParameterKey,
                string.Join(' ', safest.Doubts), changed)
            : new LifeSaid(LifeKind.Nothing, 0, double.PositiveInfinity, false, null, "", changed);
    }
}
