package text

import (
	"strconv"
	"time"
	"unsafe"
)

var sink float64

func seconds(f func()) float64 {
	start := time.Now()
	f()
	return time.Since(start).Seconds()
}

func sumFloat(src []byte) (sum float64) {
	for i := 0; i < len(src); {
		v, end, ok := Float(src, i)
		if !ok {
			i++
			continue
		}
		sum += v
		i = end + 1
	}
	return sum
}

func sumStrconv(src []byte) (sum float64) {
	for i := 0; i < len(src); {
		j := i
		for j < len(src) && src[j] != ' ' {
			j++
		}
		if v, err := strconv.ParseFloat(unsafe.String(&src[i], j-i), 64); err == nil {
			sum += v
		}
		i = j + 1
	}
	return sum
}
