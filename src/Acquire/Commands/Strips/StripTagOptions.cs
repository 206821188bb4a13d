using Acquire.Bench.Readings;

namespace Acquire.Commands.Strips;

/// <summary>What can be said about a strip when it is read: where it ran, how it was handled, and which other strip it goes with.</summary>
internal sealed class StripTagOptions
{
    private readonly Option<string?> _lot = new("--lot")
    {
        Description = "Code number of the strip's lot; with --confirms or --reread that of the other strip when not given.",
        HelpName = "CODE",
    };
    private readonly (TextTag Text, Option<string?> Option)[] _texts = [.. StripTags.Texts.Select(t => (t, Option(t, ".")))];
    private readonly Option<string?> _confirms =
        new("--confirms") { Description = "This is the second strip, run to confirm that one.", HelpName = "ID" };
    private readonly Option<string?> _reread =
        new("--reread") { Description = "This is that very strip, read again; tell with --after what was done to it.", HelpName = "ID" };
    private readonly Option<string?> _after = new("--after")
    {
        Description = "What was done before the strip was read again: re-bleach, re-fix, re-wash, drying or none.",
        HelpName = "WHAT",
    };

    private readonly Option<string?> _pair =
        new("--pair") { Description = "That strip of another lot was processed together with this one, for a crossover.", HelpName = "ID" };
    private readonly Option<bool> _baseline =
        new("--baseline") { Description = "The lot has no reference: keep the strip without aims, as one of five that make them." };

    /// <summary>The option of one text.</summary>
    public static Option<string?> Option(TextTag text, string end) =>
        new("--" + text.Name.Replace('_', '-')) { Description = text.Says + end, HelpName = text.IsPlace ? "NAME" : "TEXT" };

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_lot, .. _texts.Select(t => t.Option), _confirms, _reread, _after, _pair, _baseline])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>The strip that is to be read.</summary>
    /// <exception cref="BenchException">The options contradict each other, or a strip is not there.</exception>
    public async Task<StripRequest> OfAsync(ParseResult parsed, AcquireStore store, CancellationToken cancellationToken)
    {
        RequireSense(parsed);
        var reread = await FindAsync(parsed.GetValue(_reread));
        var confirms = await FindAsync(parsed.GetValue(_confirms));
        return new StripRequest
        {
            Lot = parsed.GetValue(_lot),
            Tags = _texts.Aggregate(StripTags.None, (tags, t) => t.Text.With(tags, parsed.GetValue(t.Option))) with
            {
                Confirms = confirms,
                Reread = reread is { } first ? new Reread(first, Treatment(parsed.GetValue(_after))) : null,
                PairedWith = await FindAsync(parsed.GetValue(_pair)),
            },
            ForBaseline = parsed.GetValue(_baseline),
        };

        async Task<Guid?> FindAsync(string? id) => id is null ? null : (await store.GetStripAsync(id, cancellationToken)).Id;
    }

    private void RequireSense(ParseResult parsed)
    {
        var isReread = parsed.GetValue(_reread) is not null;
        if (isReread != parsed.GetValue(_after) is not null)
        {
            throw new BenchException(
                "--reread and --after go together, such as: --reread 3f2a --after re-bleach. With nothing done in between: --after none");
        }

        if (isReread && (parsed.GetValue(_confirms) is not null || parsed.GetValue(_pair) is not null || parsed.GetValue(_baseline)))
        {
            throw new BenchException("A strip that is read again is no second strip, no pair and no new strip of a baseline: leave "
                + "--confirms, --pair and --baseline out.");
        }

        if (parsed.GetValue(_baseline) && parsed.GetValue(_confirms) is not null)
        {
            throw new BenchException("A strip without aims cannot confirm another: leave --baseline or --confirms out.");
        }
    }

    private static Treatment Treatment(string? word) => word is null
        ? Domain.Records.Treatment.None
        : Treatments.Parse(word) ?? throw new BenchException(
            $"'{word}' is nothing that is done to a strip; expected re-bleach, re-fix, re-wash, drying or none.");
}
