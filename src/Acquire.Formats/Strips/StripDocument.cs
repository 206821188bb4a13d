using System.Runtime.InteropServices;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Formats.Strips;

/// <summary>One strip as a line of JSON, complete; the names are those of the columns of the database, in camel case.</summary>
internal sealed record StripDocument(
    string Strip,
    RevisionDocument Revision,
    string Lot,
    string? Line,
    string? Bottle,
    string? Note,
    string? Confirms,
    string? RereadOf,
    string? Treatment,
    string? PairedWith,
    string? Handling,
    string ReadAt,
    string ReadBy,
    InstrumentInUse? Instrument,
    string? Session,
    string? Reference,
    string? Check,
    string? CheckLacking,
    RepeatabilityDocument? Repeatability,
    LayoutDocument Layout,
    ImmutableArray<PatchReadsDocument> Patches,
    ImmutableArray<MeanDocument> Means,
    ImmutableArray<AimDocument> Aims,
    ImmutableArray<ParameterResultDocument> Parameters,
    SheetDocument JudgedBy,
    ImmutableArray<QuestionDocument>? Questions = null)
{
    public static StripDocument Of(StripExport export)
    {
        var strip = export.Strip;
        return new StripDocument(
            Written.Id(strip.Id),
            RevisionDocument.Of(strip.Revision),
            strip.LotCode,
            strip.Tags.Line,
            strip.Tags.Bottle,
            strip.Tags.Note,
            Written.Id(strip.Tags.Confirms),
            Written.Id(strip.Tags.Reread?.Of),
            strip.Tags.Reread?.After.Word(),
            Written.Id(strip.Tags.PairedWith),
            strip.Tags.Handling,
            Written.Time(strip.Provenance.At),
            strip.Provenance.By,
            strip.Provenance.Instrument,
            Written.Id(strip.SessionId),
            Written.Id(strip.ReferenceId),
            Written.Id(strip.CheckId),
            strip.CheckLacking,
            RepeatabilityDocument.Of(strip.Repeatability),
            LayoutDocument.Of(strip.Layout),
            [.. strip.Patches.Select(PatchReadsDocument.Of)],
            [.. strip.Means.Select(
                m => new MeanDocument(m.PatchKey, m.Channel.Word(), m.Mean, m.Reads, m.StandardDeviation, m.Resolution))],
            [.. strip.Aims.Select(a =>
                new AimDocument(a.PatchKey, a.Channel.Word(), a.Reference, a.Correction, a.Adjustment, a.Value, a.StandardUncertainty))],
            [.. export.Parameters.Select(ParameterResultDocument.Of)],
            SheetDocument.Of(strip.JudgedBy),
            strip.Questions.IsEmpty ? null : [.. strip.Questions.Select(QuestionDocument.Of)]);
    }

    /// <summary>The record again; what was computed for the export, <see cref="Parameters"/>, is not part of it.</summary>
    /// <exception cref="FormatException">A time, id or word is none.</exception>
    /// <exception cref="Domain.ImpossibleValueException">The values make no record.</exception>
    public StripRecord ToRecord() => new(
        Written.Id(Strip),
        Lot,
        Layout.ToStripLayout(),
        JudgedBy.ToSheet(null)!,
        [.. Patches.Select(p => p.ToReads())],
        [.. Means.Select(m => new PatchMean(m.Patch, Words<Channel>.Parse(m.Channel), m.Mean, m.Reads, m.StandardDeviation, m.Resolution))],
        [.. Aims.Select(a => new Aim(
            a.Patch, Words<Channel>.Parse(a.Channel), a.Reference, a.Correction, a.StandardUncertainty) { Adjustment = a.Adjustment })],
        new Provenance(Written.Time(ReadAt), ReadBy, Instrument),
        Revision.ToRevision())
    {
        Tags = new StripTags
        {
            Line = Line,
            Bottle = Bottle,
            Note = Note,
            Handling = Handling,
            Confirms = Written.OptionalId(Confirms),
            Reread = Reread.Join(Written.OptionalId(RereadOf), Treatment is { } after ? Words<Treatment>.ByLetters(after) : null),
            PairedWith = Written.OptionalId(PairedWith),
        },
        SessionId = Written.OptionalId(Session),
        ReferenceId = Written.OptionalId(Reference),
        CheckId = Written.OptionalId(Check),
        CheckLacking = CheckLacking,
        Repeatability = Repeatability?.ToInForce(),
        Questions = [.. (Questions ?? []).Select(q => q.ToQuestion())],
    };
}

internal sealed record RevisionDocument(int Number, string By, string At, string Reason)
{
    public static RevisionDocument Of(Revision revision) => new(revision.Number, revision.By, Written.Time(revision.At), revision.Reason);

    public Revision ToRevision() => new(Number, By, Written.Time(At), Reason);
}

internal sealed record RepeatabilityDocument(string Test, ImmutableArray<ScatterDocument> Channels)
{
    public static RepeatabilityDocument? Of(RepeatabilityInForce? inForce) => inForce is null ? null : new(
        Written.Id(inForce.TestId),
        [.. inForce.Channels.Select(c => new ScatterDocument(c.Channel.Word(), c.StandardDeviation, c.DegreesOfFreedom))]);

    public RepeatabilityInForce ToInForce() => new(
        Written.Id(Test),
        [.. Channels.Select(c => new ChannelScatter(Words<Channel>.Parse(c.Channel), c.StandardDeviation, c.DegreesOfFreedom))]);
}

internal sealed record ScatterDocument(string Channel, double StandardDeviation, int DegreesOfFreedom);

internal sealed record MeanDocument(string Patch, string Channel, double Mean, int Reads, double? StandardDeviation, double Resolution);

internal sealed record AimDocument(
    string Patch, string Channel, double Reference, double Correction, double Adjustment, double Value, double StandardUncertainty);

internal sealed record ParameterResultDocument(
    string Key, string Name,
    string? Channel, double? Value, double? Aim, double? Deviation, double? Uncertainty, string? Zone, string? Unit, string? Why,
    string? RestsOnAssumed = null)
{
    public static ParameterResultDocument Of(ExportedParameter p) => new(
        p.Key,
        p.Name,
        p.Channel?.Word(),
        Finite(p.Value),
        Finite(p.Aim),
        Finite(p.Deviation),
        Finite(p.Uncertainty),
        p.Zone is { } zone ? Words<Zone>.Of(zone) : null,
        p.Unit,
        p.Why,
        p.RestsOnAssumption);

    /// <summary>JSON has no word for what is not finite.</summary>
    private static double? Finite(double? value) => value is { } number && double.IsFinite(number) ? number : null;
}

internal sealed record PatchReadsDocument(string Key, string Name, ExclusionDocument? LeftOut, ImmutableArray<ReadDocument> Reads)
{
    public static PatchReadsDocument Of(PatchReads reads) => new(
        reads.Patch.Key, reads.Patch.Name, ExclusionDocument.Of(reads.LeftOut), [.. reads.Reads.Select(ReadDocument.Of)]);

    public PatchReads ToReads() => new(new Patch(Key, Name), [.. Reads.Select(r => r.ToRead())], LeftOut?.ToExclusion());
}

/// <summary>A read as JSON. The densities are decimal, so that the digits come out as they were shown.</summary>
internal sealed record ReadDocument(
    string At,
    decimal? Red, decimal? Green, decimal? Blue, decimal? Visual, ExclusionDocument? Excluded, ImmutableArray<LineDocument> Lines,
    string? Note = null)
{
    public static ReadDocument Of(PatchRead read)
    {
        var densities = read.Reading.Densities;
        return new ReadDocument(
            Written.Time(read.Reading.At),
            densities.Red?.Value,
            densities.Green?.Value,
            densities.Blue?.Value,
            densities.Visual?.Value,
            ExclusionDocument.Of(read.Exclusion),
            [.. (read.Reading.IsEntered ? [] : read.Reading.Lines).Select(LineDocument.Of)],
            read.Note);
    }

    public PatchRead ToRead() => new(
        new Reading(
            new ChannelDensities(Density(Red), Density(Green), Density(Blue), Density(Visual)),
            Written.Time(At), [.. Lines.Select(l => l.ToLine())]),
        Excluded?.ToExclusion()) { Note = Note };

    private static Density? Density(decimal? value) => value is { } shown ? new Density(shown) : null;
}

internal sealed record ExclusionDocument(string Reason, string At)
{
    public static ExclusionDocument? Of(Exclusion? exclusion) =>
        exclusion is null ? null : new(exclusion.Reason, Written.Time(exclusion.At));

    public Exclusion ToExclusion() => new(Reason, Written.Time(At));
}

/// <summary>A raw line: its bytes in Base64, and the same for the eye.</summary>
internal sealed record LineDocument(string ReceivedAt, string Base64, string Text)
{
    public static LineDocument Of(RawLine line) =>
        new(Written.Time(line.ReceivedAt), Convert.ToBase64String(ImmutableCollectionsMarshal.AsArray(line.Bytes) ?? []), line.Text);

    /// <summary>The bytes count; the text is for the eye.</summary>
    public RawLine ToLine() => new(ImmutableArray.Create(Convert.FromBase64String(Base64)), Written.Time(ReceivedAt));
}

/// <summary>A question that was asked while a strip was read, as JSON.</summary>
internal sealed record QuestionDocument(
    string Kind, string Question, string Remedy, double Evidence, string AskedAt, string Answer, string? AnsweredAt)
{
    public static QuestionDocument Of(StripQuestion q) => new(
        q.Kind,
        q.Question,
        q.Remedy,
        q.Evidence,
        Written.Time(q.AskedAt),
        Words<QuestionAnswer>.Of(q.Answer),
        q.AnsweredAt is { } at ? Written.Time(at) : null);

    public StripQuestion ToQuestion() => new(Kind, Question, Remedy, Evidence, Written.Time(AskedAt))
    {
        Answer = Words<QuestionAnswer>.Parse(Answer),
        AnsweredAt = AnsweredAt is { } at ? Written.Time(at) : null,
    };
}
