using Acquire.Formats.Strips;
using Acquire.Storage.Import;
using Acquire.Storage.Records;

namespace Acquire.Storage.Tests.Import;

public sealed class StripImportTests : StoreFixture
{
    [Fact]
    public async Task Import_twice_adds_nothing_the_second_time()
    {
        var strips = new[] { Table("1", 0.46m), Table("2", 0.47m), Table(null, 0.48m), Table(null, 0.49m) };

        Assert.All(await Store.ImportAsync(true, strips), e => Assert.Equal(ImportFate.Added, e.Fate));
        Assert.All(await Store.ImportAsync(true, strips), e => Assert.Equal(ImportFate.AlreadyThere, e.Fate));
        Assert.Equal(4, await Store.ListStripsAsync(StripFilter.All, Token).CountAsync(Token));
    }

    [Fact]
    public async Task Import_of_two_strips_of_one_date_keeps_both_and_of_a_pasted_row_one()
    {
        var entries = await Store.ImportAsync(true, Table(null, 0.46m), Table(null, 0.47m), Table(null, 0.46m));

        Assert.Equal([ImportFate.Added, ImportFate.Added, ImportFate.Repeated], entries.Select(e => e.Fate));
        Assert.Equal([false, true, true], entries.Select(e => e.SharesIdentity));
        Assert.Equal(2, await Store.ListStripsAsync(StripFilter.All, Token).CountAsync(Token));
    }

    [Fact]
    public async Task Import_of_other_values_is_a_conflict_that_says_where_and_changes_nothing()
    {
        await Store.ImportAsync(true, Table("1", 0.46m));

        var entry = Assert.Single(await Store.ImportAsync(false, Table("1", 0.47m)));

        Assert.Equal(ImportFate.Conflict, entry.Fate);
        Assert.Equal("ld read 1 is R 0.46 in the store, R 0.47 in the file", entry.Difference);
    }

    [Fact]
    public async Task Import_that_is_not_kept_leaves_no_trace()
    {
        var before = await CountsAsync();

        Assert.All(await Store.ImportAsync(false, Table("1", 0.46m), Table("2", 0.46m)), e => Assert.Equal(ImportFate.Added, e.Fate));

        Assert.Equal(before, await CountsAsync());
        Assert.All(await Store.ImportAsync(true, Table("1", 0.46m)), e => Assert.Equal(ImportFate.Added, e.Fate));
    }

    [Fact]
    public async Task Import_that_fails_at_the_last_strip_leaves_nothing_of_the_first()
    {
        var before = await CountsAsync();

        var error = await Assert.ThrowsAsync<ImportException>(() => Store.ImportAsync(
            true, Table("1", 0.46m), Table("2", 0.46m), Table("1", 0.46m)));

        Assert.Contains("the strip 1 stands in line 2 already", error.Message, StringComparison.Ordinal);
        Assert.Equal(before, await CountsAsync());
    }

    [Fact]
    public async Task Import_cancelled_half_way_leaves_nothing()
    {
        using var stop = new CancellationTokenSource();
        var before = await CountsAsync();

        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Store.ImportStripsAsync(
            Endless(stop.Token), Imports.Source, _ => stop.Cancel(), () => true, stop.Token));

        Assert.Equal(before, await CountsAsync());
    }

    [Fact]
    public async Task Import_of_an_unknown_lot_says_how_to_add_it()
    {
        var error = await Assert.ThrowsAsync<ImportException>(() => Store.ImportAsync(true, Table("1", 0.46m) with { NewLot = null }));

        Assert.Contains(
            "line 2: there is no lot 'A1207' in the store; add it (acquire lot add A1207", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Import_of_a_record_keeps_the_ids_of_what_lies_elsewhere()
    {
        var strip = Some.Strip() with
        {
            SessionId = Guid.CreateVersion7(Some.Evening),
            ReferenceId = Guid.CreateVersion7(Some.Evening),
            CheckId = Guid.CreateVersion7(Some.Evening),
            CheckLacking = "none was due",
            Repeatability = new RepeatabilityInForce(Guid.CreateVersion7(Some.Evening), [new(Channel.Red, 0.006, 27)]),
        };

        await Store.ImportAsync(true, Imports.Whole(strip));
        await ReopenAsync();

        Deep.Equal(strip, await Store.FindStripAsync(strip.Id.ToString(), Token));
    }

    [Fact]
    public async Task Import_of_revisions_appends_the_newer_and_never_goes_back()
    {
        var first = Some.Strip();
        var second = Some.Strip(first.Id, 2);

        Assert.Equal(ImportFate.Added, Assert.Single(await Store.ImportAsync(true, Imports.Whole(second))).Fate);
        Assert.Equal(ImportFate.Conflict, Assert.Single(await Store.ImportAsync(false, Imports.Whole(first))).Fate);
        Assert.Equal(ImportFate.Revised, Assert.Single(await Store.ImportAsync(true, Imports.Whole(Some.Strip(first.Id, 3)))).Fate);
        Assert.Equal([2, 3], (await Store.StripRevisionsAsync(first.Id, Token)).Select(r => r.Revision.Number));
    }

    [Fact]
    public async Task Import_of_a_whole_record_sees_a_difference_beside_the_reads()
    {
        var strip = Some.Strip();
        await Store.ImportAsync(true, Imports.Whole(strip));

        Assert.Equal(ImportFate.AlreadyThere, Assert.Single(await Store.ImportAsync(true, Imports.Whole(strip))).Fate);
        Assert.Contains("beside their reads", Assert.Single(await Store.ImportAsync(
            false, Imports.Whole(strip with { Tags = strip.Tags with { Note = "other" } }))).Difference, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Imported_strip_is_corrected_like_any_other()
    {
        var strip = Some.Strip();
        await Store.ImportAsync(true, Imports.Whole(strip));

        await Store.AddStripAsync(Some.Strip(strip.Id, 2), Token);

        Assert.Equal(2, (await Store.FindStripAsync(strip.Id.ToString(), Token))!.Revision.Number);
    }

    /// <summary>The id follows from the strip and not from the file, as RFC 9562 section 5.8 lets a version 8 do.</summary>
    [Fact]
    [Trait("Source", "RFC 9562 sections 4.1, 4.2 and 5.8: variant and version bits")]
    public void Identity_is_the_same_for_the_same_strip_and_sorts_by_time()
    {
        var (one, same) = (Given("1", 0.46m), Given("1", 0.9m) with { Spot = new FilePlace("copy.csv", 7) });
        var id = StripIdentity.ToId(one, 0);

        Assert.Equal(id, StripIdentity.ToId(same, 0));
        Assert.Equal((8, 0x8), (id.Version, id.Variant & 0xC));
        Assert.Equal(5, new[] {
            id,
            StripIdentity.ToId(one, 1),
            Id(one with { Name = "2" }),
            Id(one with { Lot = "B" }),
            Id(one with { Tags = new StripTags { Line = "x" } }) }.Distinct().Count());
        Assert.StartsWith(Guid.CreateVersion7(one.At).ToString()[..13], id.ToString(), StringComparison.Ordinal);

        static Guid Id(ImportedStrip strip) => StripIdentity.ToId(strip, 0);
    }

    private static ImportedStrip Given(string? name, decimal red) => new()
    {
        Spot = new FilePlace("strips.csv", 2),
        Name = name,
        At = Some.Evening,
        Lot = Some.Lot.Code,
        Patches = [new ImportedPatch(
            "ld", 2, [new PatchRead(Reading.Entered(new ChannelDensities(new Density(red), null, null), Some.Evening))])],
    };

    private static IncomingStrip Table(string? name, decimal red) => Imports.Table(Given(name, red), Some.Layout, Some.Sheet);

    private static async IAsyncEnumerable<IncomingStrip> Endless(
        [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken cancellationToken)
    {
        for (var i = 0; ; i++)
        {
            cancellationToken.ThrowIfCancellationRequested();
            await Task.Yield();
            yield return Table($"{i}", 0.46m);
        }
    }

    private async Task<string> CountsAsync() => string.Join(' ', await Store.WriteAsync(
        db => db.Query<string>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
            .Select(t => db.Scalar<long>($"SELECT count(*) FROM {t}")).ToList(),
        Token));
}
