using Acquire.Hosting;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Links;

namespace Acquire.Tests.Hosting;

/// <summary>Scripts rely on the exit codes: 2 bad input, 3 instrument, 4 store.</summary>
public class FaultsTests
{
    public static TheoryData<Exception, int?> Cases => new()
    {
        { new BenchException("x"), 2 },
        { new ImpossibleValueException("x"), 2 },
        { new CaptureException("x"), 2 },
        { new LinkException(LinkFault.BadSettings, "x"), 2 },
        { new LinkException(LinkFault.NotFound, "x"), 3 },
        { new LinkException(LinkFault.InUse, "x"), 3 },
        { new LinkException(LinkFault.Denied, "x"), 3 },
        { new LinkException(LinkFault.Gone, "x"), 3 },
        { new StoreException(StoreFault.DiskFull, "x"), 4 },
        { new StoreException(StoreFault.NewerFile, "x"), 4 },
        { new StoreException(StoreFault.Duplicate, "x"), 2 },
        { new StoreException(StoreFault.Ambiguous, "x"), 2 },
        { new ExportException("x"), 2 },
        { new InvalidOperationException("a fault of the program shows its trace"), null },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void CodeOf_follows_the_contract(Exception fault, int? code) => Assert.Equal(code, Faults.CodeOf(fault));
}
