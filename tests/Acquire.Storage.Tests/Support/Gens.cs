namespace Acquire.Storage.Tests.Support;

/// <summary>Generators of everything that a record can hold.</summary>
internal static class Gens
{
    /// <summary>
    /// Text with what hurts: quotes, separators, line breaks, formula beginnings, letters of other scripts, beyond 16 bits.
    /// </summary>
    public static readonly Gen<string> Text =
        Gen.OneOf("a", "ö", "−", "'", "\"", ",", ";", "\r\n", "=1+1", "@", "%", "日", "🎞", " x", "\\", "\0")
        .Array[1, 6].Select(parts => "t" + string.Concat(parts) + "t");

    public static readonly Gen<string?> MaybeText =
        Gen.OneOf(Text.Select(t => (string?)t), Gen.Const((string?)null), Gen.Const((string?)""));

    public static readonly Gen<DateTimeOffset> Time = Gen.Select(
        Gen.Long[new DateTime(1990, 1, 1).Ticks, new DateTime(2100, 1, 1).Ticks],
        Gen.Int[-14 * 4, 14 * 4],
        (ticks, quarters) => new DateTimeOffset(ticks, TimeSpan.FromMinutes(15 * quarters)));

    public static readonly Gen<Guid> Id = Time.Select(Guid.CreateVersion7);

    public static readonly Gen<Density> Density = Gen.Select(Gen.Int[-200, 1000], Gen.Int[0, 6], (hundredths, decimals) =>
        new Density(decimal.Round(hundredths / 100m, Math.Min(decimals, 2)) + new decimal(0, 0, 0, false, (byte)decimals)));

    public static readonly Gen<Channel> Channel = Gen.Enum<Channel>();

    public static readonly Gen<double> Small = Gen.Double[-0.5, 0.5];

    public static readonly Gen<ChannelDensities> Densities = Gen.Select(
        Density, Density.Nullable(), Density.Nullable(), Density.Nullable(), Gen.Bool,
        (one, a, b, c, first) => first ? new ChannelDensities(one, a, b, c) : new ChannelDensities(a, b, c, one));

    public static readonly Gen<RawLine> RawLine = Gen.Select(
        Gen.Byte.Array[0, 40], Time, (bytes, at) => new RawLine(ImmutableArray.Create(bytes), at));

    public static readonly Gen<Exclusion?> Exclusion = Gen.OneOf(
        Gen.Const((Exclusion?)null), Gen.Select(Text, Time, (why, at) => (Exclusion?)new Exclusion(why, at)));

    public static readonly Gen<PatchRead> Read = Gen.Select(
        Densities, Time, RawLine.Array[0, 3],
        Exclusion, MaybeText, (d, at, lines, out_, note) => new PatchRead(new Reading(d, at, [.. lines]), out_) { Note = note });

    public static readonly Gen<StripLayout> Layout = Gen.Select(
        Text, Text.Array[1, 5], (name, names) => new StripLayout(name, [.. names.Select((n, i) => new Patch($"p{i}", $"{i} {n}"))]));

    public static readonly Gen<Provenance> Provenance = Gen.Select(
        Time, Text, Gen.Bool, Text, MaybeText, (at, by, hasInstrument, text, name) => new Provenance(
            at, by, hasInstrument ? new InstrumentInUse(text, "hash " + text, "port " + text) { Name = name! } : null));

    public static readonly Gen<Limit> Limit = Gen
        .Select(Gen.Double[0, 0.2], Gen.Double[0, 0.2], Gen.Int[0, 2], Text, (low, high, sides, source) =>
        new Limit(sides == 1 ? null : -low, sides == 2 ? null : high, source));

    public static Gen<ImmutableArray<PatchReads>> Patches(StripLayout layout) => Gen.Select(
        Read.Array[0, 4], Exclusion, (reads, out_) => (reads, out_))
        .Array[layout.Patches.Length]
        .Select(all => layout.Patches.Select((p, i) => new PatchReads(p, [.. all[i].reads], all[i].out_)).ToImmutableArray());

    private static readonly Gen<ImmutableDictionary<Channel, ParameterLimits>> ChannelLimits = Gen.Select(
        Channel.HashSet[0, 4],
        Limit.Null(), (channels, limit) => channels.ToImmutableDictionary(c => c, _ => new ParameterLimits(limit, null)));

    private static readonly Gen<CurvePoint> SecondPoint = Gen.OneOf(
        Gen.Double[2, 3].Select(n => (CurvePoint)new AtLogH(n)),
        Gen.Double[0.2, 3].Select(n => (CurvePoint)new AboveBase(n)),
        Gen.Double[0.1, 3].Select(n => (CurvePoint)new BeyondFirst(n)));

    /// <summary>A sheet whose usual layout is the given one, with every kind of parameter that its patches allow.</summary>
    public static Gen<ProcessSheet> Sheet(StripLayout layout) => Gen.Select(
        Gen.Select(Text, Gen.Enum<DensityStatus>(), MaybeText, Gen.Enum<DensityGeometry>()),
        Gen.Select(Limit.Null(), Channel.HashSet[1, 4], ChannelLimits),
        Gen.Select(Gen.Bool, Gen.Enum<ExposureScale>(), SecondPoint, MaybeText),
        (words, limits, curve) => SheetOf(layout, words, limits, curve));

    private static ProcessSheet SheetOf(
        StripLayout layout,
        (string Name, DensityStatus Status, string? Note, DensityGeometry Geometry) words,
        (Limit? Control, HashSet<Channel> Channels, ImmutableDictionary<Channel, ParameterLimits> Own) limits,
        (bool IsKnown, ExposureScale Scale, CurvePoint Second, string? Note) curve)
    {
        var common = new ParameterLimits(null, limits.Control);
        var own = limits.Own.RemoveRange(Channels.All.Except(limits.Channels));
        ImmutableArray<Channel> channels = [.. limits.Channels];
        var key = layout.Patches[0].Key;
        var other = layout.Patches.Skip(1).FirstOrDefault()?.Key;
        List<Parameter> parameters = [new PatchParameter("one", words.Name, "", key, channels, common) { ChannelLimits = own }];
        if (Channels.Colours.All(channels.Contains))
        {
            parameters.Add(new SpreadParameter("spread", words.Name + " spread", words.Name, "one", ParameterLimits.None));
        }

        if (other is not null)
        {
            parameters.Add(
                new DifferenceParameter("diff", words.Name + " −", words.Name, other, key, channels, common) { ChannelLimits = own });
        }

        if (other is null || !curve.IsKnown)
        {
            return new ProcessSheet(
                words.Name, words.Name, words.Status, layout, [.. parameters], words.Note) { Geometry = words.Geometry };
        }

        parameters.Add(new GradientParameter("g", "G", "", new AtLogH(0.1), curve.Second, key, channels, common) { ChannelLimits = own });
        parameters.Add(new SlopeParameter("s", "S", "", key, other, channels, common));
        parameters.Add(new SpeedPointParameter("v", "V", "", new AboveBase(0.1), key, channels, common));
        var steps =
            layout.Patches.Select((p, i) => new LayoutPatch(p, i == 2 ? null : i * 0.15, i < 2 ? PatchRole.Judged : PatchRole.Curve));
        return new ProcessSheet(
            words.Name,
            words.Name,
            words.Status,
            [
                new SheetLayout("wedge", layout.Name, [.. steps], curve.Scale, curve.Note),
                new SheetLayout("one", layout.Name + " short", [new LayoutPatch(layout.Patches[0])]),
            ],
            [.. parameters],
            words.Note)
        {
            Geometry = words.Geometry,
        };
    }

    public static readonly Gen<StripLot> Lot = Layout.SelectMany(layout => Gen.Select(
        Text, Text, Small.Array[layout.Patches.Length], Gen.Date.Select(DateOnly.FromDateTime).Nullable(), MaybeText, MaybeText, (
            code, process, factors, expires, rule, note) =>
            new StripLot(
                code, process, layout,
                [.. layout.Patches.Select((p, i) => new CorrectionFactor(p.Key, Channels.All[i % 4], factors[i]))],
                expires, rule, note)));

    public static readonly Gen<StripQuestion> Question = Gen.Select(
        Text, Small, Time, Time, Gen.Enum<QuestionAnswer>(), (text, evidence, asked, answered, answer) =>
            new StripQuestion("kind " + text, text, "remedy " + text, evidence * 20, asked)
            {
                Answer = answer,
                AnsweredAt = answer == QuestionAnswer.Unanswered ? null : answered,
            });

    public static Gen<StripRecord> Strip(string lotCode) => Layout.SelectMany(layout => Gen.Select(
        Gen.Select(Sheet(layout), Patches(layout), Provenance, Id),
        Gen.Select(Gen.Select(Channel, Gen.Double[0, 4], Gen.Double[0, 0.1].Nullable()).Array[layout.Patches.Length], Small),
        Gen.Select(Text, Time, MaybeText, MaybeText, MaybeText),
        Question.Array[0, 2],
        (what, numbers, words, questions) => new StripRecord(
            what.Item4,
            lotCode,
            layout,
            what.Item1,
            what.Item2,
            PatchMeans.Of(what.Item2),
            [.. layout.Patches.Select((p, i) =>
                new Aim(p.Key, numbers.Item1[i].Item1, numbers.Item1[i].Item2, numbers.Item2, 0.003) { Adjustment = numbers.Item2 / 10 })],
            what.Item3,
            new Revision(1, words.Item1, words.Item2, words.Item1))
        {
            Tags = StripTags.Of(name => $"{name} {words.Item3}") with { Line = words.Item3, Bottle = words.Item4, Note = words.Item5 },
            Questions = [.. questions],
        }));

    public static readonly Gen<ReceivedLine> Line =
        Gen.Select(RawLine, Gen.Enum<LineMeaning>(), (line, meaning) => new ReceivedLine(1, line, meaning));
}
