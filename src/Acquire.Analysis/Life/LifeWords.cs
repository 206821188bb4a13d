namespace Acquire.Analysis.Life;

/// <summary>The answers in one plain sentence each.</summary>
public static class LifeWords
{
    /// <summary>How long does it last with me?</summary>
    public static string HowLong(LifeStudy study, string what)
    {
        if (study.Whole is { Days: { } days, By: { } by } named)
        {
            var lasts = $"{what} lasts about {Days(days.Estimate)} with you (95 %: {Days(Math.Max(0, days.Lower))} to "
                + $"{Days(days.Upper)}) until {by.Name} reaches its action limit; "
                + $"that rests on {Numbers.Count(by.Strips, "strip")} of {Numbers.Count(by.Bottles, "bottle")}";
            // Rounded to the days that are shown, so that nothing is said of what nobody sees.
            var others = by.Days is { } alone && Math.Round(days.Lower) < Math.Round(alone.Lower)
                ? string.Create(
                    CultureInfo.InvariantCulture,
                    $" By {by.Name} alone it would be {Math.Max(0, alone.Lower):0} to {alone.Upper:0}; another may get to its limit first.")
                : "";
            return named.IsBeyond
                ? $"If it goes on like this, {lasts}, the oldest run at {Days(named.OldestAge)}; no strip has seen what comes later."
                    + (named.HoldsAWhile ? $" They have seen it inside for at least {Days(named.AtLeastDays)}." : "") + others
                : $"{Numbers.Capital(lasts)}.{others}";
        }

        if (study.Answers.FirstOrDefault(a => a is { Votes: true, OutsideFromStart: not null }) is { OutsideFromStart: { } start } outside)
        {
            return string.Create(
                CultureInfo.InvariantCulture,
                $"No life of {what} can be named: {outside.Name} is past its action limit of {outside.Limit} with the youngest strips "
                + $"already, at {start:+0.000;-0.000}, so age is not the cause. Look for it first: acquire causes STRIP.");
        }

        if (study is { Whole: { } whole, Leading: { } nearest })
        {
            var why = study.Answers.FirstOrDefault(a => a is { Votes: true, Jump.IsLikelier: true }) is { Jump: { } jump } jumped
                ? string.Create(
                    CultureInfo.InvariantCulture,
                    $"{jumped.Name} changed at once, between {jump.After:yyyy-MM-dd} and {jump.Before:yyyy-MM-dd}, which is no ageing.")
                : "the strips do not bear out that it ages, or when it gets to a limit.";
            var held = whole.HoldsAWhile
                ? $"At least {Days(whole.AtLeastDays)} by them, {nearest.Name} being the nearest to its limit; the oldest was run "
                    + $"at {Days(whole.OldestAge)}, and no strip has seen what comes later."
                : $"Nor do they tell how long {nearest.Name} stays inside its limit.";
            return $"Not enough evidence to name a life of {what}: {why} {held}"
                + (nearest.Next is { StripsToTell: { } more, AtAgeDays: var at }
                    ? $" {Numbers.Capital(Numbers.Count(more, "more strip"))} at about day {Round(at)} would tell."
                    : "");
        }

        return study.Answers is [{ Refusal: { } refusal }, ..] ? $"Nothing can be told of the life of {what} yet. {refusal}"
            : $"Nothing can be told of the life of {what}: no parameter has both an action limit and strips whose solution's age is known.";
    }

    /// <summary>How long, in a few words for one way of keeping among others.</summary>
    public static string Briefly(LifeStudy study)
    {
        return study switch
        {
            { Whole: { Days: { } days, By: { } by } whole } =>
                $"{(whole.IsBeyond ? "if it goes on like this, " : "")}about {Days(days.Estimate)} (95 %: "
                + $"{Days(Math.Max(0, days.Lower))} to "
                + $"{Days(days.Upper)}), by {by.Name}.",
            { Leading: { OutsideFromStart: not null } outside } => $"{outside.Name} is past its action limit from the start.",
            { Whole: { HoldsAWhile: true } whole, Leading: { } nearest } => $"at least {Days(whole.AtLeastDays)}, by {nearest.Name}.",
            { Leading: { } unclear } => $"not enough evidence, {unclear.Name} least of all.",
            _ => "nothing can be told.",
        };
    }

    /// <summary>How much film is that? Empty when it cannot be told.</summary>
    public static string Rolls(LifeStudy study)
    {
        return study.Governing?.AreaAt(study.Whole!.Days) is var (estimate, lower, upper)
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"That is about {Figure(estimate / FilmFormat.Roll)} rolls of 80 in² per litre at your rate (95 %: "
                + $"{Figure(lower / FilmFormat.Roll)} to {Figure(upper / FilmFormat.Roll)}).")
            : "";
    }

    /// <summary>Does it matter which?</summary>
    public static string Comparison(LifeComparison comparison, LifeAnswer answer)
    {
        var differences = comparison.WhyNot is { } why
            ? $"the difference cannot be told. {why}"
            : $"{string.Join("; ", comparison.Differences.Select(Difference))}.";
        string Difference(LifeEffect d) => string.Create(
            CultureInfo.InvariantCulture,
            $"{(d.Factor == comparison.Factor ? $"{d.Level} against {d.Against}" : d.Name)} {d.Size:+0.000;-0.000} ± "
            + $"{d.Margin:0.000}{(d.IsClear ? "" : ", which may be none")}");

        var each = comparison.IsOfBottles ? "each from a bottle of its own, as mixes differ too" : "at the same age";
        var needed = comparison.StripsOfEach is { } strips
            ? string.Create(CultureInfo.InvariantCulture, $"To show a difference of {comparison.See:0.000}: "
                + $"{Numbers.Count(strips, "strip")} of each, {each} (scatter {comparison.Sigma:0.000}).")
            : string.Create(
                CultureInfo.InvariantCulture,
                $"A difference of {comparison.See:0.000} is too small to be shown with strips that scatter by {comparison.Sigma:0.000}.");
        return $"{Numbers.Capital(comparison.Factor)}, {answer.Name}: {differences} {needed}";
    }

    public static string WhatChangedMost(LifeStudy study)
    {
        var largest = study.Answers
            .SelectMany(a => a.Effects.Where(e => e.IsClear && !e.IsNuisance).Select(e => (Answer: a, Effect: e)))
            .OrderByDescending(e => e.Effect.LimitShare ?? 0)
            .ThenByDescending(e => Math.Abs(e.Effect.Size))
            .FirstOrDefault();
        return largest.Effect is { } effect
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"What changed most is {largest.Answer.Name}, by {effect.Size:+0.000;-0.000} ± {effect.Margin:0.000} through "
                + $"{effect.Name}: ") + (effect.LimitShare is { } share
                    ? string.Create(CultureInfo.InvariantCulture, $"{share * 100:0} % of the way to its action limit.")
                    : "it moves away from its only limit.")
            : "Nothing has a clear effect yet: every effect may as well be strip-to-strip scatter.";
    }

    /// <summary>What would the next strip add?</summary>
    public static string NextStrip(LifeStudy study)
    {
        return study.Governing?.Next is { WidthShare: { } share, AtAgeDays: var at }
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"One more strip at about day {Round(at)} would bring the interval to {share * 100:0} % of its width, if the way is "
                + $"straight.")
            : "";
    }

    /// <summary>Is this bottle still good?</summary>
    public static string Standing(BottleStanding standing)
    {
        if (standing.Worst is not { } worst)
        {
            return standing.UnseenStorage is { } unseen
                ? $"Bottle {standing.Bottle}: no strip ran in a bottle kept {unseen}, and other ways of keeping tell nothing of it; run "
                    + "one."
                : $"Bottle {standing.Bottle}: too few strips to tell where it stands; run one.";
        }

        var where = string.Create(
            CultureInfo.InvariantCulture,
            $"Bottle {standing.Bottle}, {Days(standing.AgeDays)} old{Reckoned(standing)}: {worst.Name} stands at about "
            + $"{standing.Deviation:+0.000;-0.000} ± "
            + $"{standing.StandardUncertainty:0.000}, inside its action limit {worst.Limit} with "
                + $"{Numbers.Percent(standing.InsideProbability)} probability");
        // Nothing has been seen of such an age: a run strip tells what a line drawn on does not.
        var beyond = standing.AgeDays > worst.OldestAge
            ? $" No strip was run at such an age, the oldest at {Days(worst.OldestAge!.Value)}."
            : "";
        var reserve = standing.AgeDays + standing.DaysLeft?.Upper > worst.OldestAge ? "if it goes on like this, " : "";
        return beyond.Length > 0
            && standing.DaysLeft is not { Estimate: <= 0 } ? $"{where}, if it has gone on like before.{beyond} Run one."
            : standing.DaysLeft switch
            {
                { Estimate: > 0 } left =>
                    $"{where}; {reserve}about {Days(left.Estimate)} to go (95 %: {Days(Math.Max(0, left.Lower))} to "
                    + $"{Days(Math.Max(0, left.Upper))}).",
                { } past =>
                    $"{where}; by the strips it passed its limit about {Days(-past.Estimate)} ago.{beyond} Run a strip before film that "
                    + "matters.",
                null => $"{where}; how long it still has cannot be named.",
            };
    }

    /// <summary>By which way of keeping a bottle is reckoned that has none entered; empty for one that has.</summary>
    public static string Reckoned(BottleStanding standing) =>
        standing.ReckonedAs is { } kept ? $", reckoned as kept {kept} since the books do not tell how it is kept" : "";

    private static string Days(double days) => days >= 9.5 ? Numbers.Count((int)Math.Round(days), "day")
        : days.ToString("0.#", CultureInfo.InvariantCulture) is "1"
            ? "1 day"
            : $"{days.ToString("0.#", CultureInfo.InvariantCulture)} days";

    private static string Round(double days) => Math.Round(days).ToString(CultureInfo.InvariantCulture);

    private static string Figure(double number) => number.ToString(number >= 9.5 ? "0" : "0.#", CultureInfo.InvariantCulture);
}
