using Acquire.Analysis.Control;
using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>How long a kind of solution lasts, by the strips run in it.</summary>
/// <param name="Answers">Every parameter and channel with an action limit, the shortest life first, then those without one.</param>
/// <param name="Storages">The ways of keeping that occur, the commonest first.</param>
/// <param name="WithoutAge">Strips left out because the age of their solution is not known.</param>
public sealed record LifeStudy(ImmutableArray<LifeAnswer> Answers, ImmutableArray<string> Storages, int WithoutAge)
{
    private const double Unlikely = 0.01;

    /// <summary>The parameter that ends the life first; null when none can be named.</summary>
    public LifeAnswer? Governing => Answers.FirstOrDefault(a => a.IsTold);

    /// <summary>The parameter that ends the life first, or else the one that is nearest to its limit; null without any model.</summary>
    public LifeAnswer? Leading =>
        Governing ?? Answers.Where(a => a.Model is not null).MinBy(a => a.OutsideFromStart is null ? a.AtLeastDays : -1);

    /// <summary>Studies strips of one process and one kind of solution.</summary>
    /// <param name="sheet">Their process sheet, with the limits in force.</param>
    /// <param name="storage">The way of keeping that is asked for; null for the commonest.</param>
    public static LifeStudy Of(IReadOnlyList<StripPoint> strips, ProcessSheet sheet, string? storage = null)
    {
        var known = strips.Where(s => s.AgeDays is not null && s.Bottle is not null).ToList();
        ImmutableArray<string> storages = [.. known.Select(s => s.Storage).OfType<string>().CountBy(s => s).OrderByDescending(s => s.Value)
            .Select(s => s.Key)];
        var answers =
            from parameter in sheet.Parameters
            // What has no sign, such as a spread, goes no way that a line could follow to its limit.
            where parameter.HasSign
            from channel in known.SelectMany(s => s.Judgement.Results)
                .Where(r => r.Parameter.Key == parameter.Key)
                .Select(r => r.Channel)
                .Distinct()
                .Order()
            where parameter.LimitsIn(channel).Action is not null
            select Answer(new SeriesKey(parameter.Key, channel), parameter, known, storage);
        return new LifeStudy(
            [.. answers.OrderBy(a => a.IsTold ? a.Days!.Estimate : double.PositiveInfinity).ThenBy(
                a => a.AtLeastDays ?? double.PositiveInfinity)],
            storages, strips.Count - known.Count);
    }

    private static LifeAnswer Answer(SeriesKey key, Parameter parameter, IReadOnlyList<StripPoint> strips, string? storage)
    {
        ImmutableArray<LifeRow> rows =
        [
            .. from strip in strips
               let result = strip.Judgement.Results.FirstOrDefault(r => r.Parameter.Key == key.ParameterKey && r.Channel == key.Channel)
               where result?.Deviation is not null
               select new LifeRow(
                   result.Deviation!.Value, strip.Bottle!, strip.Lot, strip.AgeDays!.Value, strip.AreaPerLitre, strip.Storage,
                   strip.Line, strip.Method, strip.StripId) { Reading = result.ReadingUncertainty ?? 0 },
        ];
        var answer = new LifeAnswer
        {
            Key = key,
            Name = parameter.NameIn(key.Channel),
            Limit = parameter.LimitsIn(key.Channel).Action!,
            Strips = rows.Length,
            Bottles = rows.Select(r => r.Bottle).Distinct(StringComparer.OrdinalIgnoreCase).Count(),
        };
        try
        {
            return With(answer, LifeModel.Of(rows), storage);
        }
        catch (ModelException fault)
        {
            return answer with { Refusal = fault.Message };
        }
    }

    private static LifeAnswer With(LifeAnswer answer, LifeModel model, string? storage)
    {
        var (slope, error) = model.Slope(storage);
        var start = model.At(model.YoungestAge, storage).Value;
        var startsInside = answer.Limit.Holds(start);
        // Only the limit on the side it moves to ends a life.
        var leaves = slope < 0 ? answer.Limit.Lower : answer.Limit.Upper;
        var days = leaves is { } limit ? model.Reaches(limit, storage) : null;
        // Past the limit from the start, the line reaches it at an age below 0, or the wrong way: no life can be named.
        var told = startsInside && days is { Estimate: > 0 } ? days : null;
        return answer with
        {
            Model = model,
            Slope = (slope, error * Quantiles.Student(0.975, model.Fit.DegreesOfFreedom)),
            Use = model.UseOf(storage),
            Leaves = leaves,
            Days = told,
            OutsideFromStart = startsInside ? null : start,
            AtLeastDays = model.InsideAtLeast(answer.Limit, 4 * Math.Max(1, model.OldestAge), storage),
            Next = startsInside && leaves is { } at ? Next(model, at, days!, storage) : null,
            Effects = model.Effects(leaves is { } width ? Math.Abs(width) : answer.Limit.Upper ?? -answer.Limit.Lower ?? 0),
            Doubts = [.. Doubts(answer with { Days = told }, model, storage), .. model.LeftOut],
        };
    }

    /// <summary>Looks for the age at which one more strip narrows the interval most.</summary>
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

    private static IEnumerable<string> Doubts(LifeAnswer answer, LifeModel model, string? storage)
    {
        if (answer.Bottles == 1)
        {
            yield return "All strips are of one bottle; another mix may age otherwise.";
        }

        if (answer.IsTold && answer.Days!.Estimate > LifeWords.FarBeyond * model.OldestAge)
        {
            yield return FormattableString.Invariant(
                $"The oldest strip was run at {model.OldestAge:0} days, so the life is drawn on from there.");
        }

        foreach (var strip in model.Outlying)
        {
            yield return $"Strip {strip.ToString("N")[^8..]} lies far from what the others say: if something else had happened to it, "
                + "leave it out with --without.";
        }

        if (model.BendP() < Unlikely)
        {
            yield return "The way to the limit bends, so a straight line is only a guide.";
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
