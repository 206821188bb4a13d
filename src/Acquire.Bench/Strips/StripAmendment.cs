using Acquire.Bench.Lots;

namespace Acquire.Bench.Strips;

/// <param name="Patch">Key or name of the patch.</param>
/// <param name="Read">Number of the read, from 1; null for the whole patch.</param>
public sealed record ReadPlace(string Patch, int? Read);

/// <summary>
/// A correction of a strip record. What it does not name stays as it was, the aims and limits that the strip was judged by above all.
/// </summary>
public sealed record StripAmendment(string Reason, string By)
{
    /// <summary>
    /// The lot it is really of, as it stood when the strip was read: its aims and process sheet judge it from now on. Null to keep the lot.
    /// </summary>
    public LotEntry? Lot { get; init; }

    /// <summary>Puts the tags right.</summary>
    public Func<StripTags, StripTags> Tags { get; init; } = tags => tags;

    /// <summary>Reads and patches that do not count, each with its reason.</summary>
    public ImmutableArray<(ReadPlace Place, string Reason)> Excluded { get; init; } = [];

    /// <summary>Reads and patches that count again.</summary>
    public ImmutableArray<ReadPlace> Included { get; init; } = [];

    /// <summary>
    /// Makes the next revision of a stored record and keeps it, in one transaction: of two programs that amend at once the second amends
    /// what the first made.
    /// </summary>
    /// <exception cref="BenchException">As <see cref="Apply"/>; nothing is kept then.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public Task<(StripRecord Before, StripRecord After)> KeepAsync(
        AcquireStore store, Guid strip, TimeProvider time, CancellationToken cancellationToken) => store.InTransactionAsync(
        writing =>
        {
            var before = writing.FindStrip(strip.ToString("N"))!;
            var after = Apply(before, time.GetUtcNow());
            writing.AddStrip(after);
            return (before, after);
        },
        cancellationToken);

    /// <summary>Makes the next revision of a record. The means follow from the reads that count.</summary>
    /// <exception cref="BenchException">Nothing would change; a patch or read is not there; the lot has other patches.</exception>
    /// <exception cref="Domain.ImpossibleValueException">A reason is empty.</exception>
    public StripRecord Apply(StripRecord strip, DateTimeOffset now)
    {
        if (Lot is { } other && !other.Lot.Layout.Patches.SequenceEqual(strip.Layout.Patches))
        {
            throw new BenchException(
                $"Strips of lot {other.Lot.Code} have other patches ({string.Join(", ", other.Lot.Layout.Patches.Select(p => p.Key))}) "
                + $"than were read on strip {StripId.ShortForm(strip.Id)}.");
        }

        var patches = Included.Aggregate(strip.Patches, (all, place) => Changed(all, strip, place, null));
        patches = Excluded.Aggregate(patches, (all, out_) => Changed(all, strip, out_.Place, new Exclusion(out_.Reason, now)));
        var amended = strip with
        {
            Patches = patches,
            Means = Included.IsEmpty && Excluded.IsEmpty ? strip.Means : PatchMeans.Of(patches),
            Tags = Tags(strip.Tags),
            Revision = strip.Revision.Next(By, now, Reason),
        };
        if (Lot is not null)
        {
            // A wrong lot is a wrong box in the drawer: the limits of the day stay, unless the process is another one too.
            amended = amended with
            {
                LotCode = Lot.Lot.Code,
                Layout = Lot.Lot.Layout,
                JudgedBy = Keys.Same(strip.JudgedBy.Key, Lot.Lot.ProcessKey) ? strip.JudgedBy : Lot.Sheet,
                Aims = Lot.InForce.Aims,
                ReferenceId = Lot.Reference?.Id,
            };
        }

        return RevisionChanges.Between(strip, amended).IsEmpty
            ? throw new BenchException($"Nothing about strip {StripId.ShortForm(strip.Id)} would change, so there is no new revision.")
            : amended;
    }

    private static ImmutableArray<PatchReads> Changed(
        ImmutableArray<PatchReads> patches, StripRecord strip, ReadPlace place, Exclusion? exclusion)
    {
        var key = strip.Layout.Get(place.Patch).Key;
        var index = patches.Select(p => p.Patch.Key).ToList().IndexOf(key);
        var patch = patches[index];
        if (place.Read is not { } number)
        {
            return patches.SetItem(index, patch with { LeftOut = exclusion });
        }

        return number >= 1 && number <= patch.Reads.Length
            ? patches.SetItem(
                index, patch with { Reads = patch.Reads.SetItem(number - 1, patch.Reads[number - 1] with { Exclusion = exclusion }) })
            : throw new BenchException($"Patch {key} has no read {number}; it has {patch.Reads.Length}.");
    }
}

/// <summary>Something that a revision changed.</summary>
/// <param name="Field">What, in words, such as <c>line</c> or <c>hd read 2</c>.</param>
/// <param name="Before">What it was; null when there was nothing.</param>
/// <param name="After">What it is; null when there is nothing.</param>
public sealed record FieldChange(string Field, string? Before, string? After);

/// <summary>What differs between two revisions of one strip.</summary>
public static class RevisionChanges
{
    /// <summary>Field by field, in the order of the record; who, when and why are not among them. Empty when nothing differs.</summary>
    public static ImmutableArray<FieldChange> Between(StripRecord before, StripRecord after)
    {
        return [.. Texts(before).Zip(Texts(after), (b, a) => new FieldChange(b.Field, b.Text, a.Text))
            .Concat(Reads(before, after))
            .Concat(NumbersOf("mean", Means(before), Means(after)))
            .Concat(NumbersOf("aim", Aims(before), Aims(after)))
            .Where(c => c.Before != c.After)];
    }

    private static IEnumerable<(string Field, string? Text)> Texts(StripRecord strip) =>
    [
        ("lot", strip.LotCode),
        .. StripTags.Texts.Select(t => (t.Name, t.Of(strip.Tags))),
        ("confirms", Short(strip.Tags.Confirms)),
        ("read again", Short(strip.Tags.Reread?.Of)),
        ("after", strip.Tags.Reread?.After.Word()),
        ("pair", Short(strip.Tags.PairedWith)),
        ("reference", Short(strip.ReferenceId)),
        ("calibration check", Short(strip.CheckId)),
        ("check lacking", strip.CheckLacking),
        ("process sheet", strip.JudgedBy.Name),
        ("layout", strip.Layout.Name),
    ];

    private static IEnumerable<FieldChange> Reads(StripRecord before, StripRecord after) =>
        before.Patches.Zip(after.Patches).SelectMany(p =>
            p.First.Reads.Zip(p.Second.Reads, (b, a) => (b, a))
                .Select((read, i) => new FieldChange(
                    string.Create(CultureInfo.InvariantCulture, $"{p.First.Patch.Key} read {i + 1}"),
                    Counts(read.b.Exclusion), Counts(read.a.Exclusion)))
                .Prepend(new FieldChange(p.First.Patch.Key, Counts(p.First.LeftOut), Counts(p.Second.LeftOut))));

    private static IEnumerable<FieldChange> NumbersOf(string what, Dictionary<string, string> before, Dictionary<string, string> after) =>
        before.Keys.Union(after.Keys).Select(k => new FieldChange($"{what} {k}", before.GetValueOrDefault(k), after.GetValueOrDefault(k)));

    private static Dictionary<string, string> Means(StripRecord strip) => strip.Means.ToDictionary(
        m => $"{m.PatchKey.ToLowerInvariant()} {m.Channel.Word()}", m => Numbers.Four(m.Mean));

    private static Dictionary<string, string> Aims(StripRecord strip) => strip.Aims.ToDictionary(
        a => $"{a.PatchKey.ToLowerInvariant()} {a.Channel.Word()}", a => Numbers.Four(a.Value));

    private static string Counts(Exclusion? exclusion) => exclusion is null ? "counts" : $"left out: {exclusion.Reason}";

    private static string? Short(Guid? id) => id is { } given ? StripId.ShortForm(given) : null;
}
