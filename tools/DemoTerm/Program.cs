// Makes the file with the demo's invented term anew; needed when a migration changes tables that the term has rows in.
// usage: DemoTerm FILE [SEED], such as: dotnet run --project tools/DemoTerm -- src/Acquire/Demo/term.jsonl.gz
using DemoTerm;

if (args is not [var path, .. var rest])
{
    Console.Error.WriteLine("usage: DemoTerm FILE [SEED]");
    return 2;
}

var seed = rest is [var given, ..] ? int.Parse(given, CultureInfo.InvariantCulture) : DemoHistory.UsualSeed;
await File.WriteAllBytesAsync(path, await DemoHistory.FileAsync(seed, CancellationToken.None));
return 0;
