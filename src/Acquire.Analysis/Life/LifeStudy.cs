using Acquire.Analysis.Control;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Life;

/// <summary>How long a kind of solution lasts, by the strips run in it.</summary>
/// <param name="Answers">Every parameter and channel with an action limit, the shortest life first, then those without one.</param>
/// <param name="Whole">The solution as a whole; null without any model.</param>
/// <param name="Storages">The ways of keeping that occur, the commonest first.</param>
/// <param name="WithoutAge">Strips left out because the age of their solution is not known.</param>
public sealed record LifeStudy(
    ImmutableArray<LifeAnswer> Answers, LifeWhole? Whole, ImmutableArray<string> Storages, int WithoutAge)
{
    /// <summary>What <see cref="Reckoned"/> is where the books do not tell how most bottles are kept.</summary>
    public const string NotTold = LifeDesign.NotTold;

    /// <summary>The way of keeping that the answers are of; <see cref="NotTold"/> for bottles of which the books do not tell it,
    /// null where the strips do not tell ways of keeping apart.</summary>
    public string? Reckoned { get; private init; }

    /// <summary>How seldom a solution that does not age is to be told to.</summary>
    private const double Falsely = 0.05;

    /// <summary>The parameter that ends the life first; null when none can be named.</summary>
    public LifeAnswer? Governing => Whole?.By;

    /// <summary>The parameter that ends the life first, or else the one that is nearest to its limit; null without any model.</summary>
    public LifeAnswer? Leading => Governing ?? Voting.MinBy(a => a.OutsideFromStart is null ? a.AtLeastDays : -1);

    private IEnumerable<LifeAnswer> Voting => Answers.Where(a => a is { Votes: true, Model: not null });

    /// <summary>Studies strips of one process and one kind of solution.</summary>
    /// <param name="sheet">Their process sheet, with the limits in force.</param>
    /// <param name="storage">The way of keeping that is asked for; null for the commonest.</param>
    /// <param name="kind">The kind of solution.</param>
    public static LifeStudy Of(
        IReadOnlyList<StripPoint> strips, ProcessSheet sheet, string? storage = null, SolutionKind kind = SolutionKind.Developer)
    {
        var known = strips.Where(s => s.AgeDays is not null && s.Bottle is not null).ToList();
        ImmutableArray<string> storages = [.. known.Select(s => s.Storage).OfType<string>().CountBy(s => s).OrderByDescending(s => s.Value)
            .Select(s => s.Key)];
        var found = (
            from parameter in sheet.Parameters
            // What has no sign, such as a spread, goes no way that a line could follow to its limit.
            where parameter.HasSign
            from channel in known.SelectMany(s => s.Judgement.Results)
                .Where(r => r.Parameter.Key == parameter.Key)
                .Select(r => r.Channel)
                .Distinct()
                .Order()
            where parameter.LimitsIn(channel).Action is not null
            let votes = LifeVotes.Say(kind, parameter, channel, sheet)
            select Answer(new SeriesKey(parameter.Key, channel), parameter, known, storage) with { Votes = votes }).ToList();
        // One of many series always seems to age; all that have a say are looked at, so each must show it the more clearly. The colours of
        // one parameter go together and count as one look.
        var looked = Math.Max(1, found.Where(a => a is { Votes: true, Model: not null }).DistinctBy(a => a.Key.ParameterKey).Count());
        ImmutableArray<LifeAnswer> answers =
        [
            .. found.Select(a => a.Model is { } model ? Told(a, model, storage, Falsely / looked) : a)
                .OrderBy(a => a.Days?.Estimate ?? double.PositiveInfinity)
                .ThenBy(a => a.AtLeastDays ?? double.PositiveInfinity),
        ];
        return new LifeStudy(answers, LifeWhole.Of(answers), storages, strips.Count - known.Count)
        {
            Reckoned = answers.FirstOrDefault(a => a.Model is not null)?.Model!.LevelsOf(LifeDesign.Storage) is [var commonest, ..]
                ? storage ?? commonest
                : null,
        };
    }

    private static LifeAnswer Answer(SeriesKey key, Parameter parameter, IReadOnlyList<StripPoint> strips, string? storage)
    {
        ImmutableArray<LifeRow> rows =
        [
            .. from strip in strips
               let result = strip.Judgement.Results.FirstOrDefault(r => r.Parameter.Key == key.ParameterKey && r.Channel == key.Channel)
               where result?.Deviation is not null
               let assumed = result.Budget?.Components.FirstOrDefault(c => c is { Of: Doubt.Reference, IsAssumed: true })?.Contribution ?? 0
               let aim = result.AimUncertainty ?? 0
               select new LifeRow(
                   result.Deviation!.Value, strip.Bottle!, strip.Lot, strip.AgeDays!.Value, strip.AreaPerLitre, strip.Storage,
                   strip.Line, strip.Method, strip.StripId)
               {
                   LeastRead = result.LeastReadingUncertainty ?? 0,
                   Read = result.ReadingUncertainty ?? 0,
                   ReadFreedom = result.Budget?.Components.FirstOrDefault(c => c.Of == Doubt.Reads)?.DegreesOfFreedom
                       ?? double.PositiveInfinity,
                   Aim = Math.Sqrt(Math.Max(0, (aim * aim) - (assumed * assumed))),
                   AssumedAim = assumed,
                   At = strip.At,
               },
        ];
        var answer = new LifeAnswer
        {
            Key = key,
            Name = parameter.NameIn(key.Channel),
            Limit = parameter.LimitsIn(key.Channel).Action!,
            Strips = rows.Length,
            Bottles = rows.Select(r => r.Bottle).Distinct(StringComparer.OrdinalIgnoreCase).Count(),
            RestsOnAssumption = strips.SelectMany(s => s.Judgement.Results)
                .Where(r => r.Parameter.Key == key.ParameterKey && r.Channel == key.Channel)
                .Aggregate(Assumed.None, (all, r) => all | r.RestsOnAssumption),
        };
        try
        {
            var model = LifeModel.Of(rows);
            var (slope, error) = model.Slope(storage);
            var curve = LifeCurve.Of(model);
            return answer with
            {
                Model = model,
                Curve = curve,
                Risk = LifeRisk.Of(
                    LifeRisk.Grid(rows.Min(r => r.AgeDays), rows.Max(r => r.AgeDays)), age => curve.Outside(answer.Limit, age, storage)),
                OldestAge = model.OldestOf(storage),
                Slope = (slope, error * Quantiles.Student(0.975, model.Fit.DegreesOfFreedom)),
                Use = model.UseOf(storage),
                // Only the limit on the side it moves to ends a life.
                Leaves = slope < 0 ? answer.Limit.Lower : answer.Limit.Upper,
                Effects = model.Effects(answer.Limit),
            };
        }
        catch (ModelException fault)
        {
            return answer with { Refusal = fault.Message };
        }
    }

    private static LifeAnswer Told(LifeAnswer answer, LifeModel model, string? storage, double significance)
    {
        var (slope, error) = model.Slope(storage);
        var ages = slope != 0 && answer.Leaves is not null
            && (error == 0 || Quantiles.StudentTail(slope / error, model.Fit.DegreesOfFreedom) < significance);
        var jump = ages && LifeJump.Of(model) is { IsWorthAWord: true } found ? found : null;
        var start = answer.Risk!.Chances[0];
        var told = answer with
        {
            Jump = jump,
            // Past the limit from the start, no age can be named at which it got there.
            Days = ages && start < 0.5 && jump is not { IsLikelier: true } ? answer.Risk.Span() : null,
            OutsideFromStart = start >= 1 - LifeSpan.Tail ? answer.Curve!.At(model.YoungestOf(storage), storage).Value : null,
            AtLeastDays = Math.Min(answer.Risk.Until(answer.OldestAge!.Value).Reaches(0.05) ?? double.PositiveInfinity,
                answer.OldestAge.Value),
            Next = start < 0.5 && answer.Leaves is { } at ? Next(model, at, model.Reaches(at, storage), storage) : null,
        };
        return told with { Doubts = [.. LifeDoubts.Of(told, model, storage), .. model.LeftOut] };
    }

    /// <summary>Looks for the age at which one more strip narrows the interval most, on a straight way.</summary>
    private static NextStrip? Next(LifeModel model, double limit, RatioInterval now, string? storage)
    {
        var ages = Enumerable.Range(1, 8).Select(i => model.OldestAge * i / 4).Where(a => a > 0).ToList();
        if (now.Kind == RatioKind.Bounded)
        {
            var best = ages.Select(a => (Age: a, Then: model.ReachesWithMore(limit, a, 1, storage))).Where(
                n => n.Then.Kind == RatioKind.Bounded)
                .MinBy(n => n.Then.Upper - n.Then.Lower);
            return best.Then is null || now.Upper <= now.Lower
                ? null
                : new NextStrip(best.Age, (best.Then.Upper - best.Then.Lower) / (now.Upper - now.Lower), null);
        }

        // Late strips tell most of a slope; how many of them?
        var late = ages.Where(a => a <= 1.5 * model.OldestAge).DefaultIfEmpty(model.OldestAge).Max();
        var needed = Enumerable.Range(1, 20).FirstOrDefault(k => model.ReachesWithMore(limit, late, k, storage).Kind == RatioKind.Bounded);
        return new NextStrip(late, null, needed == 0 ? null : needed);
    }
}

/// <summary>What makes an answer less sure, a sentence each.</summary>
internal static class LifeDoubts
{
    public static IEnumerable<string> Of(LifeAnswer answer, LifeModel model, string? storage)
    {
        if (!answer.Votes)
        {
            yield return "It says nothing of such a solution, so it has no say in how long one lasts.";
        }

        if (answer.Bottles == 1)
        {
            yield return "All strips are of one bottle; another mix may age otherwise.";
        }

        if (AssumptionWords.Rests(answer.RestsOnAssumption) is { } rests)
        {
            yield return $"How far the aims themselves may be off {rests}.";
        }

        if (answer.IsBeyond)
        {
            yield return FormattableString.Invariant(
                $"The oldest strip was run at {answer.OldestAge:0} days: what is said of later days holds only if it goes on like this.");
        }

        foreach (var strip in model.Outlying)
        {
            yield return $"Strip {strip.ToString("N")[^8..]} lies far from what the others say: if something else had happened to it, "
                + "leave it out with --without.";
        }

        if (answer.Jump is { } jump)
        {
            yield return FormattableString.Invariant(
                $"A change at once, between {jump.After:yyyy-MM-dd} and {jump.Before:yyyy-MM-dd}, explains the strips ")
                + (jump.IsLikelier ? "better than age does, so no life is named" : "too") + ": was the method changed then?";
        }

        if (answer.IsTold && answer.Curve!.Likeliest is { Shape: { Bend: not LifeBend.Straight } shape, Probability: > 0.5 })
        {
            yield return $"The way to the limit bends ({shape.Word}); the answer takes that in.";
        }

        if (model.HasSpeeds)
        {
            yield return $"Ways of keeping age at different speeds, so this is for one of them only: "
                + $"{storage ?? model.LevelsOf(LifeDesign.Storage)[0]}.";
        }

        if (model.Fit.Ratio > 0)
        {
            yield return "Mixes differ from each other by more than strips do, so few bottles make a wide interval.";
        }
    }
}
