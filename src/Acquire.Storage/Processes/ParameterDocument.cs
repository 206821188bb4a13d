using System.Collections.Immutable;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Processes;
using Acquire.Storage.Rows;

namespace Acquire.Storage.Processes;

/// <summary>A parameter as JSON; its kind is <c>patch</c>, <c>difference</c> or <c>spread</c>.</summary>
internal sealed record ParameterDocument(
    string Key,
    string Name,
    string StandsFor,
    string Kind,
    string? Patch = null,
    string? MinusPatch = null,
    string? SpreadOf = null,
    ImmutableArray<string>? Channels = null,
    LimitDocument? Action = null,
    LimitDocument? Control = null)
{
    public static ParameterDocument Of(Parameter parameter)
    {
        var common = new ParameterDocument(
            parameter.Key,
            parameter.Name,
            parameter.StandsFor,
            "",
            Action: LimitDocument.Of(parameter.Limits.Action),
            Control: LimitDocument.Of(parameter.Limits.Control));
        return parameter switch
        {
            PatchParameter p => common with { Kind = "patch", Patch = p.PatchKey, Channels = ToWords(p.Channels) },
            DifferenceParameter d => common with
            {
                Kind = "difference", Patch = d.PatchKey, MinusPatch = d.MinusPatchKey, Channels = ToWords(d.Channels),
            },
            SpreadParameter s => common with { Kind = "spread", SpreadOf = s.OfKey },
            _ => throw new ArgumentException($"A parameter of type {parameter.GetType().Name} has no form in files.", nameof(parameter)),
        };
    }

    public Parameter ToParameter()
    {
        var limits = new ParameterLimits(Action?.ToLimit(), Control?.ToLimit());
        return Kind switch
        {
            "patch" => new PatchParameter(Key, Name, StandsFor, Patch ?? "", FromWords(), limits),
            "difference" => new DifferenceParameter(Key, Name, StandsFor, Patch ?? "", MinusPatch ?? "", FromWords(), limits),
            "spread" => new SpreadParameter(Key, Name, StandsFor, SpreadOf ?? "", limits),
            _ => throw new FormatException($"'{Kind}' is no kind of parameter"),
        };
    }

    private static ImmutableArray<string> ToWords(ImmutableArray<Channel> channels) => [.. channels.Select(Words<Channel>.Of)];

    private ImmutableArray<Channel> FromWords() => [.. (Channels ?? []).Select(Words<Channel>.Parse)];
}

/// <summary>A limit as JSON: deviations in density.</summary>
internal sealed record LimitDocument(double? Lower, double? Upper, string Source)
{
    public static LimitDocument? Of(Limit? limit) => limit is null ? null : new LimitDocument(limit.Lower, limit.Upper, limit.Source);

    public Limit ToLimit() => new(Lower, Upper, Source);
}
